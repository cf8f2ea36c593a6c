import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import { coxLikelihood } from "../../src/regression/cox-likelihood.ts";
import { ownInformation } from "../../src/regression/cox-own-information.ts";
import { coxRows } from "../../src/regression/cox-rows.ts";
import { expectRelative, referenceRecord } from "../reference/record.ts";
import { fitted, lung, matrixOf } from "./cox-examples.ts";
import { drawnExample } from "./drawn-example.ts";
import { naiveCorrected } from "./naive-few-clusters.ts";

type Matrix = readonly (readonly number[])[];

function expectClose(ours: Matrix, theirs: Matrix, relative: number): void {
  theirs.forEach((line, j) => {
    line.forEach((value, k) => {
      const size = Math.sqrt(Math.abs((theirs[j]?.[j] ?? 0) * (theirs[k]?.[k] ?? 0)));
      expect(Math.abs((ours[j]?.[k] ?? Number.NaN) - value), `${j}, ${k}`).toBeLessThanOrEqual(
        relative * size,
      );
    });
  });
}

const RULES = ["efron", "breslow"] as const;
const SEEDS = [11, 12, 13];

describe('coxRegression() with smallSample "shares"', () => {
  it.each(RULES)("meets a twin that sums over every row of every risk set (%s)", (sameDay) => {
    for (const seed of SEEDS) {
      for (const weighted of [false, true]) {
        const example = drawnExample(seed, { clustered: true, weighted });
        const fit = fitted(example, { sameDay, smallSample: "shares" });
        const beta = fit.columns.map(({ hazardRatio }) => (hazardRatio.computed ? hazardRatio.logRatio : 0));
        expectClose(fit.covariance, naiveCorrected(example, sameDay, beta).covariance, 1e-9);
        expect(fit.settings.smallSample).toBe("shares");
      }
    }
  });

  it("meets cox.lung_over_the_rest", () => {
    const fit = fitted(lung({ clustered: true }), { sameDay: "breslow", smallSample: "shares" });
    const { expected } = referenceRecord("23_frailty", "cox.lung_over_the_rest");
    expectClose(fit.covariance, expected.vcov, 1e-9);
    expect(fit.settings.clusters).toEqual([expected.clusters]);
    // The degrees of freedom come from the whole matrix between clusters, the term's test is that of its one coefficient.
    fit.columns.forEach(({ hazardRatio }, at) => {
      if (!hazardRatio.computed) throw new Error(hazardRatio.code);
      expectRelative(hazardRatio.degreesOfFreedom, expected.df[at], 1e-8);
      expectRelative(hazardRatio.p, expected.p[at], 1e-8);
      const { wald } = fit.terms[at] ?? {};
      expectRelative(wald?.computed ? wald.p : undefined, expected.p[at], 1e-8);
    });
    expect(fit.settings.degreesOfFreedom).toBeNull();
    expect(fit.notes.find(({ code }) => code === "few-clusters")?.text).toContain(
      "degrees of freedom that the clusters leave",
    );
    expect(fit.wald.computed && fit.wald.degreesBeneath).toBeCloseTo(Math.min(...expected.df) - 2, 8);
  });

  it("counts a group that rests on four of 24 clusters as little more than four", () => {
    const stream = randomStreams(8).stream("four of 24");
    const rows = 2_400;
    const codes = Array.from({ length: rows }, (_, row) => row % 24);
    const columns = {
      exit: codes.map(() => 1 + stream.below(200)),
      event: codes.map(() => (stream.uniform() < 0.3 ? 1 : 0)),
      cluster: { codes, word: "surgeon" },
    };
    const freedomOf = (users: number) => {
      const fit = fitted(
        { columns, matrix: matrixOf({ x: codes.map((code) => (code < users ? 1 : 0)) }) },
        {
          smallSample: "shares",
        },
      );
      const ratio = fit.columns[0]?.hazardRatio;
      return ratio?.computed ? ratio.degreesOfFreedom : undefined;
    };
    // Welch 1947 for 4 and 20 equal clusters whose means have variances as 5 to 1: 4.4.
    expect(freedomOf(4)).toBeGreaterThan(4);
    expect(freedomOf(4)).toBeLessThan(5);
    expect(freedomOf(12)).toBeGreaterThan(20);
  });

  it("leaves two ways of clustering the fewer degrees of freedom of the two", () => {
    const example = lung({ clustered: true });
    const codes = Array.from({ length: example.columns.exit.length }, (_, row) => row % 5);
    const other = { codes, word: "week" };
    const freedoms = (options: Parameters<typeof fitted>[1]) =>
      fitted(example, { smallSample: "shares", ...options }).columns.map(({ hazardRatio }) =>
        hazardRatio.computed ? (hazardRatio.degreesOfFreedom ?? 0) : 0,
      );
    const [one, both] = [freedoms({}), freedoms({ secondCluster: other })];
    both.forEach((freedom, at) => {
      expect(freedom).toBeLessThanOrEqual(Math.min(one[at] ?? 0, 4));
      expect(freedom).toBeGreaterThan(0);
    });
  });

  it.each(RULES)("gives clusters parts that add up to the information (%s)", (sameDay) => {
    for (const seed of SEEDS) {
      const { columns, matrix } = drawnExample(seed, { clustered: true, weighted: true });
      const rows = coxRows("test", columns, matrix);
      const values = rows.columns.map((column) => column.values);
      const point = coxLikelihood(rows, sameDay, values, [0.3, -0.2]);
      const own = ownInformation(rows, values, point);
      const sum = values.map(() => new Float64Array(values.length));
      for (let i = 0; i < rows.count; i += 1) own.add(sum, i, 1);
      sum.forEach((line, j) => {
        for (let k = 0; k <= j; k += 1) {
          expect(Math.abs((line[k] ?? 0) - (point.information[j]?.[k] ?? 0))).toBeLessThan(1e-11);
        }
      });
    }
  });

  it("hardly differs from no correction where every cluster is small, and widens every interval", () => {
    const stream = randomStreams(3).stream("many clusters");
    const rows = 3_000;
    const x = Array.from({ length: rows }, () => (stream.uniform() < 0.5 ? 1 : 0));
    const many = {
      columns: {
        exit: Array.from({ length: rows }, () => 1 + stream.below(500)),
        event: Array.from({ length: rows }, () => (stream.uniform() < 0.6 ? 1 : 0)),
        cluster: { codes: x.map((_, row) => row), word: "knee" },
      },
      matrix: matrixOf({ x }),
    };
    const error = (smallSample: "none" | "shares") => {
      const ratio = fitted(many, { smallSample }).columns[0]?.hazardRatio;
      return ratio?.computed ? ratio.standardError : 0;
    };
    const growth = error("shares") / error("none");
    expect(growth).toBeGreaterThan(1);
    expect(growth).toBeLessThan(1.001);
    const few = (smallSample: "none" | "shares") =>
      fitted(lung({ clustered: true }), { smallSample }).covariance;
    few("shares").forEach((line, j) => {
      expect(line[j] ?? 0).toBeGreaterThan(few("none")[j]?.[j] ?? 0);
    });
  });

  it("leaves the estimate, the model's variance and every other setting as they were", () => {
    const plain = fitted(lung({ clustered: true }));
    const shares = fitted(lung({ clustered: true }), { smallSample: "shares" });
    expect(shares.modelCovariance).toEqual(plain.modelCovariance);
    expect(shares.columns.map(({ hazardRatio }) => hazardRatio.computed && hazardRatio.ratio)).toEqual(
      plain.columns.map(({ hazardRatio }) => hazardRatio.computed && hazardRatio.ratio),
    );
  });

  it("leaves the score of a cluster alone without which nothing could be fitted", () => {
    // In the second ward alone does x vary; the first has a baseline of its own.
    const columns = {
      exit: [1, 2, 3, 4, 5, 6, 7, 8],
      event: [1, 1, 0, 1, 1, 1, 1, 0],
      stratum: { codes: [0, 0, 0, 1, 1, 1, 1, 1], labels: ["first", "second"] },
      cluster: { codes: [0, 0, 0, 1, 1, 1, 1, 1], word: "ward" },
    };
    const example = { columns, matrix: matrixOf({ x: [1, 1, 1, 0, 1, 0, 1, 0] }) };
    expect(fitted(example, { smallSample: "shares" }).covariance).toEqual(
      fitted(example, { smallSample: "none" }).covariance,
    );
  });

  it("is for clusters alone", () => {
    expect(() => fitted(lung(), { variance: "robust", smallSample: "shares" })).toThrow(
      'smallSample "shares" needs the variance "clustered"',
    );
    expect(() => fitted(lung(), { smallSample: "many" as "none" })).toThrow("none, clusters, shares");
  });
});
