import { betaLowerQuantile } from "../../../src/numeric/beta-quantile.ts";
import { binomialLower } from "../../../src/numeric/binomial.ts";
import {
  chiSquareLower,
  chiSquareLowerQuantile,
  chiSquareUpper,
  chiSquareUpperQuantile,
} from "../../../src/numeric/chi-square.ts";
import { fUpper, fUpperQuantile } from "../../../src/numeric/f-distribution.ts";
import { betaLower, betaUpper } from "../../../src/numeric/incomplete-beta.ts";
import { gammaLower, gammaUpper } from "../../../src/numeric/incomplete-gamma.ts";
import { logGamma } from "../../../src/numeric/log-gamma.ts";
import { logNormalUpper, normalUpper, normalUpperQuantile } from "../../../src/numeric/normal.ts";
import { poissonLower, poissonUpper } from "../../../src/numeric/poisson.ts";
import { studentUpper, studentUpperQuantile } from "../../../src/numeric/student-t.ts";
import { referenceRecords } from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Method, seriesCheck } from "../check.ts";
import { present } from "../curves.ts";
import { REFERENCES } from "../references.ts";

interface Special {
  readonly words: string;
  readonly name: string;
  readonly at: (args: readonly number[]) => number;
}

/** By the names of the reference file, whose arguments stand in its own order. */
const SPECIAL: Readonly<Record<string, Special>> = {
  chisq_upper: {
    words: "Chi-square, upper tail",
    name: "chiSquareUpper",
    at: ([x = 0, df = 0]) => chiSquareUpper(x, df),
  },
  chisq_lower: {
    words: "Chi-square, lower tail",
    name: "chiSquareLower",
    at: ([x = 0, df = 0]) => chiSquareLower(x, df),
  },
  norm_upper: { words: "Normal, upper tail", name: "normalUpper", at: ([z = 0]) => normalUpper(z) },
  log_norm_upper: {
    words: "Normal, log of the upper tail",
    name: "logNormalUpper",
    at: ([z = 0]) => logNormalUpper(z),
  },
  t_upper: {
    words: "Student's t, upper tail",
    name: "studentUpper",
    at: ([t = 0, df = 0]) => studentUpper(t, df),
  },
  f_upper: {
    words: "F, upper tail",
    name: "fUpper",
    at: ([f = 0, first = 0, second = 0]) => fUpper(f, first, second),
  },
  beta_lower: {
    words: "Incomplete beta",
    name: "betaLower",
    at: ([x = 0, a = 0, b = 0]) => betaLower(x, a, b),
  },
  beta_upper: {
    words: "Incomplete beta, upper part",
    name: "betaUpper",
    at: ([x = 0, a = 0, b = 0]) => betaUpper(x, a, b),
  },
  gamma_upper: {
    words: "Incomplete gamma, upper part",
    name: "gammaUpper",
    at: ([x = 0, shape = 0]) => gammaUpper(shape, x),
  },
  gamma_lower: {
    words: "Incomplete gamma",
    name: "gammaLower",
    at: ([x = 0, shape = 0]) => gammaLower(shape, x),
  },
  poisson_upper_incl: {
    words: "Poisson, at least k",
    name: "poissonUpper",
    at: ([k = 0, mean = 0]) => poissonUpper(k, mean),
  },
  poisson_lower: {
    words: "Poisson, at most k",
    name: "poissonLower",
    at: ([k = 0, mean = 0]) => poissonLower(k, mean),
  },
  binom_lower: {
    words: "Binomial, at most k",
    name: "binomialLower",
    at: ([k = 0, n = 0, p = 0]) => binomialLower(k, n, p),
  },
  lgamma: { words: "Log gamma", name: "logGamma", at: ([x = 0]) => logGamma(x) },
  norm_quantile_upper: {
    words: "Normal quantile",
    name: "normalUpperQuantile",
    at: ([p = 0]) => normalUpperQuantile(p),
  },
  chisq_quantile_upper: {
    words: "Chi-square quantile, upper tail",
    name: "chiSquareUpperQuantile",
    at: ([p = 0, df = 0]) => chiSquareUpperQuantile(p, df),
  },
  chisq_quantile_lower: {
    words: "Chi-square quantile, lower tail",
    name: "chiSquareLowerQuantile",
    at: ([p = 0, df = 0]) => chiSquareLowerQuantile(p, df),
  },
  t_quantile_upper: {
    words: "Student's t quantile",
    name: "studentUpperQuantile",
    at: ([p = 0, df = 0]) => studentUpperQuantile(p, df),
  },
  f_quantile_upper: {
    words: "F quantile",
    name: "fUpperQuantile",
    at: ([p = 0, first = 0, second = 0]) => fUpperQuantile(p, first, second),
  },
  beta_quantile_lower: {
    words: "Beta quantile",
    name: "betaLowerQuantile",
    at: ([p = 0, a = 0, b = 0]) => betaLowerQuantile(p, a, b),
  },
};

/** Tails and quantiles that every p-value and limit rests on: the worst of each function. */
export function specialFunctionChecks(): Method {
  const records = referenceRecords("17_special_functions");
  return {
    id: "special-functions",
    title: "Tails and quantiles",
    functions: Object.values(SPECIAL).map(({ name }) => name),
    notes: ["Each row is one function; it shows the argument at which package and truth lie farthest apart."],
    examples: [
      {
        title: "Arguments from the middle of each distribution to where doubles end",
        fromMemory: false,
        reference: REFERENCES.digits,
        checks: records.map((record) => {
          const { words, at } = present(SPECIAL[record.id.replace("special.", "")], record.id);
          const { args } = record.input as { args: number[][] };
          return seriesCheck(words, args.map(at), record.expected.value, toleranceOf(record));
        }),
      },
    ],
  };
}
