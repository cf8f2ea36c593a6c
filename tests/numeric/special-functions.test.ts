import { describe, expect, it } from "vitest";
import { betaLowerQuantile } from "../../src/numeric/beta-quantile.ts";
import { binomialLower } from "../../src/numeric/binomial.ts";
import {
  chiSquareLower,
  chiSquareLowerQuantile,
  chiSquareUpper,
  chiSquareUpperQuantile,
} from "../../src/numeric/chi-square.ts";
import { fUpper, fUpperQuantile } from "../../src/numeric/f-distribution.ts";
import { betaLower, betaUpper } from "../../src/numeric/incomplete-beta.ts";
import { gammaLower, gammaUpper } from "../../src/numeric/incomplete-gamma.ts";
import { logGamma } from "../../src/numeric/log-gamma.ts";
import { logNormalUpper, normalUpper, normalUpperQuantile } from "../../src/numeric/normal.ts";
import { poissonLower, poissonUpper } from "../../src/numeric/poisson.ts";
import { studentUpper, studentUpperQuantile } from "../../src/numeric/student-t.ts";
import { referenceRecords } from "../reference/record.ts";

type NumberFunction = (...values: number[]) => number;

const OURS: Readonly<Record<string, NumberFunction>> = {
  "special.chisq_upper": chiSquareUpper as NumberFunction,
  "special.chisq_lower": chiSquareLower as NumberFunction,
  "special.norm_upper": normalUpper as NumberFunction,
  "special.log_norm_upper": logNormalUpper as NumberFunction,
  "special.t_upper": studentUpper as NumberFunction,
  "special.f_upper": fUpper as NumberFunction,
  "special.beta_lower": betaLower as NumberFunction,
  "special.beta_upper": betaUpper as NumberFunction,
  "special.gamma_upper": ((x: number, shape: number) => gammaUpper(shape, x)) as NumberFunction,
  "special.gamma_lower": ((x: number, shape: number) => gammaLower(shape, x)) as NumberFunction,
  "special.poisson_upper_incl": poissonUpper as NumberFunction,
  "special.poisson_lower": poissonLower as NumberFunction,
  "special.binom_lower": binomialLower as NumberFunction,
  "special.lgamma": logGamma as NumberFunction,
  "special.norm_quantile_upper": normalUpperQuantile as NumberFunction,
  "special.chisq_quantile_upper": chiSquareUpperQuantile as NumberFunction,
  "special.chisq_quantile_lower": chiSquareLowerQuantile as NumberFunction,
  "special.t_quantile_upper": studentUpperQuantile as NumberFunction,
  "special.f_quantile_upper": fUpperQuantile as NumberFunction,
  "special.beta_quantile_lower": betaLowerQuantile as NumberFunction,
};

const records = referenceRecords("17_special_functions");

describe("special functions against 60-digit arithmetic (closed form, computed with mpmath)", () => {
  it("covers every record of the reference file", () => {
    expect(records.map((record) => record.id).sort()).toEqual(Object.keys(OURS).sort());
  });

  for (const record of records) {
    const { args } = record.input as { args: number[][] };
    const values = record.expected.value as number[];
    args.forEach((given, at) => {
      it(`${record.id}(${given.join(", ")}) keeps the record's tolerance`, () => {
        const ours = OURS[record.id]?.(...given) ?? Number.NaN;
        expectWithin(record.tolerance, ours, values[at] ?? Number.NaN);
      });
    });
  }
});

/** Reads the three tolerance sentences of the file; an unknown sentence fails. */
function expectWithin(tolerance: string, ours: number, truth: number): void {
  const distance = Math.abs(ours - truth);
  const limit = {
    "rel 1e-12 (value below 1e-300: rel 1e-9, subnormal or 0 accepted)":
      Math.abs(truth) < 1e-300 ? 1e-9 * Math.abs(truth) : 1e-12 * Math.abs(truth),
    "rel 1e-10 or abs 1e-15": Math.max(1e-10 * Math.abs(truth), 1e-15),
    "abs 1e-14 or rel 1e-13": Math.max(1e-14, 1e-13 * Math.abs(truth)),
  }[tolerance];
  expect(limit, tolerance).toBeDefined();
  expect(distance, `${ours} against ${truth}`).toBeLessThanOrEqual(limit ?? -1);
  // A tail that exists as a number is never reported as nothing.
  expect(ours).not.toBe(0);
}
