import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import { type FrailtyOptions, frailtyRegression } from "../../src/regression/frailty-regression.ts";
import type { FrailtyFit } from "../../src/regression/frailty-result.ts";
import { medianHazardRatio } from "../../src/regression/median-hazard-ratio.ts";
import { expectAllRelative, expectRelative, referenceRecord } from "../reference/record.ts";
import { type CoxExample, kidneyByPatient, matrixOf, present } from "./cox-examples.ts";
import { naiveFrailty } from "./naive-frailty.ts";

/** Sixty invented rows in twelve wards that differ much, one covariate. */
function wards(seed: number, { late = false, strata = false, rows = 60 } = {}): CoxExample {
  const stream = randomStreams(seed).stream("frailty");
  const factor = Array.from(
    { length: 12 },
    () => -Math.log(1 - stream.uniform()) - Math.log(1 - stream.uniform()),
  );
  const codes = Array.from({ length: rows }, () => stream.below(12));
  const x = codes.map(() => (stream.uniform() < 0.5 ? 1 : 0));
  const exit = codes.map((ward, row) => {
    const hazard = 0.04 * (factor[ward] ?? 1) * Math.exp(0.7 * (x[row] ?? 0));
    return 1 + Math.min(14, Math.floor(-Math.log(1 - stream.uniform()) / hazard));
  });
  return {
    columns: {
      exit,
      event: exit.map((tick) => (tick < 15 && stream.uniform() < 0.9 ? 1 : 0)),
      cluster: { codes, word: "ward" },
      ...(late && { entry: exit.map((tick) => (stream.uniform() < 0.3 ? stream.below(tick) : -1)) }),
      ...(strata && { stratum: { codes: codes.map(() => stream.below(2)), labels: ["north", "south"] } }),
    },
    matrix: matrixOf({ x }),
  };
}

function fitted({ columns, matrix }: CoxExample, options?: FrailtyOptions): FrailtyFit {
  return present(frailtyRegression(columns, matrix, options));
}

function ratios({ columns }: FrailtyFit) {
  return columns.map(({ hazardRatio }) => present(hazardRatio));
}

const numbersOf = (fit: FrailtyFit) => [
  ...ratios(fit).flatMap(({ logRatio, standardError }) => [logRatio, standardError]),
  fit.variance.estimate,
  fit.logLikelihood,
  fit.varianceTest.chiSquare,
];

const LEVELS = { efron: "efron", breslow: "breslow" } as const;

describe("frailtyRegression()", () => {
  it.each(Object.values(LEVELS))("meets cox.gamma_frailty_kidney (%s)", (sameDay) => {
    const { expected } = referenceRecord("05_cox", "cox.gamma_frailty_kidney");
    const fit = fitted(kidneyByPatient(), { sameDay });
    const theirs = expected[sameDay];
    expect(Math.abs(fit.variance.estimate - theirs.theta)).toBeLessThan(1e-4);
    expectAllRelative(
      ratios(fit).map(({ logRatio }) => logRatio),
      theirs.coef,
      1e-5,
    );
    expectRelative(fit.logLikelihood, theirs.integratedLoglik, 1e-8);
    if (sameDay === "breslow") return;
    expectRelative(fit.varianceTest.chiSquare, theirs.lrFrailty, 1e-7);
    expectAllRelative(fit.frailties.frailty, theirs.frailties, 1e-5);
    expectRelative(fit.logLikelihoodWithout, expected.noFrailty.loglik, 1e-9);
    expect(fit.clusters).toEqual({ count: 38, withEvents: 35, withTwoEvents: 23 });
  });

  it.each([
    ["frailty.kidney_full", "efron", {}],
    ["frailty.kidney_full", "breslow", {}],
    ["frailty.kidney_strata_late", "efron", { late: true }],
  ] as const)("meets %s (%s)", (id, sameDay, extra) => {
    const { expected } = referenceRecord("23_frailty", id);
    const theirs = expected[sameDay] ?? expected;
    const fit = fitted(kidneyByPatient(extra), { sameDay });
    expectRelative(fit.variance.estimate, theirs.theta, 1e-8);
    expectRelative(fit.logLikelihood, theirs.integratedLoglik, 1e-8);
    expectRelative(fit.varianceTest.chiSquare, theirs.lrFrailty, 1e-8);
    expectAllRelative(
      ratios(fit).map(({ logRatio }) => logRatio),
      theirs.coef,
      1e-8,
    );
    expectAllRelative(fit.covariance.flat(), theirs.vcov.flat(), 1e-8);
    expectAllRelative(fit.frailties.frailty, theirs.frailties, 1e-8);
  });

  it("says that the variance is 0 where it is, with the ratios of a fit without a frailty (cox.frailty_zero)", () => {
    const fit = fitted(kidneyByPatient({ withDisease: true }));
    const { expected } = referenceRecord("05_cox", "cox.frailty_zero");
    expect(fit.variance).toMatchObject({ estimate: 0, lower: 0 });
    expect(present(fit.variance.upper).value).toBeGreaterThan(0);
    expect(fit.medianHazardRatio).toMatchObject({ estimate: 1, lower: 1 });
    expect(fit.varianceTest).toEqual({ chiSquare: 0, p: 1 });
    expect(new Set(fit.frailties.frailty)).toEqual(new Set([1]));
    expect(fit.notes.map(({ code }) => code)).toContain("no-variance-found");
    expectAllRelative(
      ratios(fit).map(({ logRatio }) => logRatio),
      expected.coefPlainCox,
      1e-4,
    );
  });

  it.each([
    ["one stratum", {}],
    ["strata and late entries", { late: true, strata: true }],
  ])("finds the top of the plainly written likelihood, its bend and its limits (twin, %s)", (_, extra) => {
    for (const seed of [8, 10]) {
      const example = wards(seed, extra);
      const fit = fitted(example, { sameDay: "breslow" });
      const naive = naiveFrailty(example);
      const { beta, theta, value } = naive.maximum();
      const [ratio] = ratios(fit);
      expect(ratio?.logRatio).toBeCloseTo(beta, 4);
      expect(fit.variance.estimate / theta).toBeCloseTo(1, 4);
      expectRelative(fit.logLikelihood, value, 1e-10);
      const at = ratio?.logRatio ?? 0;
      const own = fit.variance.estimate;
      const bend = [-1, 0, 1].map((side) => naive.at(at + 0.01 * side, own));
      const information = (2 * (bend[1] ?? 0) - (bend[0] ?? 0) - (bend[2] ?? 0)) / 1e-4;
      expectRelative(1 / (ratio?.standardError ?? 0) ** 2, information, 1e-3);
    }
  });

  it("puts the limits of the variance where the profile has fallen by 1.92 (twin)", () => {
    const example = wards(10);
    const fit = fitted(example, { sameDay: "breslow" });
    const naive = naiveFrailty(example);
    const highest = (theta: number) => {
      let [low, high] = [-2, 3];
      while (high - low > 1e-6) {
        const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
        if (naive.at(a, theta) < naive.at(b, theta)) low = a;
        else high = b;
      }
      return naive.at(low, theta);
    };
    const { lower, upper } = fit.variance;
    for (const limit of [lower, present(upper).value].filter((one) => one > 0)) {
      expect(2 * (fit.logLikelihood - highest(limit))).toBeCloseTo(3.841459, 4);
    }
    const half = fitted(example, { sameDay: "breslow", level: 0.5 });
    expect(half.variance.lower).toBeGreaterThan(lower);
    expect(present(half.variance.upper).value).toBeLessThan(present(upper).value);
  });

  it("gives one answer for rows in another order, other cluster numbers, cut rows and repeated rows", () => {
    const example = wards(10);
    const { columns, matrix } = example;
    const x = [...(matrix.columns[0]?.values ?? [])];
    const codes = Array.from(columns.cluster?.codes ?? []);
    const plain = numbersOf(fitted(example));
    const order = x.map((_, row) => (row * 17) % x.length);
    const pick = (values: ArrayLike<number>) => order.map((row) => values[row] ?? 0);
    const shuffled = {
      exit: pick(columns.exit),
      event: pick(columns.event),
      entry: order.map(() => -1),
      cluster: { codes: pick(codes).map((code) => 5 * code + 3), word: "ward" },
    };
    expectAllRelative(
      numbersOf(fitted({ columns: shuffled, matrix: matrixOf({ x: pick(x) }) })),
      plain,
      1e-7,
    );
    const cut = {
      entry: [...x.map(() => -1), ...x.map(() => 0)],
      exit: [...x.map(() => 0), ...Array.from(columns.exit)],
      event: [...x.map(() => 0), ...Array.from(columns.event)],
      caseId: [...x.keys(), ...x.keys()],
      cluster: { codes: [...codes, ...codes], word: "ward" },
    };
    expectAllRelative(
      numbersOf(fitted({ columns: cut, matrix: matrixOf({ x: [...x, ...x] }) })),
      plain,
      1e-7,
    );
    const twice = { exit: [...Array.from(columns.exit), 3], event: [...Array.from(columns.event), 1] };
    const more = { ...twice, cluster: { codes: [...codes, 1], word: "ward" } };
    const repeated = fitted(
      {
        columns: {
          ...more,
          exit: [...more.exit, 3],
          event: [...more.event, 1],
          cluster: { codes: [...codes, 1, 1], word: "ward" },
        },
        matrix: matrixOf({ x: [...x, 1, 1] }),
      },
      { sameDay: "breslow" },
    );
    const copies = fitted(
      {
        columns: { ...more, weight: { kind: "copies", values: [...x.map(() => 1), 2] } },
        matrix: matrixOf({ x: [...x, 1] }),
      },
      { sameDay: "breslow" },
    );
    expectAllRelative(numbersOf(copies), numbersOf(repeated), 1e-7);
    expect(copies.events).toBe(repeated.events);
  });

  it("reports in the caller's units, and the same likelihood in any", () => {
    const { columns, matrix } = wards(2);
    const x = [...(matrix.columns[0]?.values ?? [])];
    const fit = fitted({ columns, matrix });
    const scaled = fitted({ columns, matrix: matrixOf({ x: x.map((one) => 1_000 * one + 5) }) });
    expectRelative((ratios(scaled)[0]?.logRatio ?? 0) * 1_000, ratios(fit)[0]?.logRatio ?? 0, 1e-7);
    expectRelative(scaled.logLikelihood, fit.logLikelihood, 1e-12);
  });

  it("is never less likely than the fit without a frailty, whose likelihood it carries", () => {
    for (let seed = 20; seed < 32; seed += 1) {
      const { columns, matrix } = wards(seed, { late: seed % 2 === 0, strata: seed % 3 === 0 });
      const fit = fitted({ columns, matrix });
      const plain = present(coxRegression(columns, matrix, { variance: "model" }));
      expectRelative(fit.logLikelihoodWithout, plain.logLikelihood, 1e-12);
      expect(fit.logLikelihood, `seed ${seed}`).toBeGreaterThanOrEqual(plain.logLikelihood);
      expect(fit.varianceTest.p).toBeLessThanOrEqual(1);
      expect(fit.variance.lower).toBeLessThanOrEqual(fit.variance.estimate);
      const mean = fit.frailties.frailty.reduce((sum, one) => sum + one, 0) / fit.clusters.count;
      // At the top frailties have mean 1: the score of the baseline.
      expect(mean).toBeCloseTo(1, 7);
      expect(JSON.stringify({ ...fit, terms: [] })).not.toMatch(/null|NaN|Infinity/);
    }
  });

  it("finds no coefficient to give in a model without columns, but the variance", () => {
    const { columns, matrix } = wards(10);
    const fit = fitted({ columns, matrix: { ...matrix, columns: [], terms: [] } });
    expect(fit.columns).toEqual([]);
    expect(fit.variance.estimate).toBeGreaterThan(0);
  });

  it("leaves the caller's arrays alone", () => {
    const { columns, matrix } = wards(3);
    const before = JSON.stringify([columns, matrix]);
    fitted({ columns, matrix });
    expect(JSON.stringify([columns, matrix])).toBe(before);
  });
});

describe("frailtyRegression() with thin or bad input", () => {
  const cluster = { codes: [0, 0, 1, 1, 2, 2], word: "surgeon" };
  const base = { exit: [1, 2, 3, 4, 5, 6], event: [1, 1, 1, 1, 1, 0], cluster };
  const x = matrixOf({ x: [1, 0, 0, 1, 0, 1] });

  it.each([
    ["no-rows", { exit: [], event: [], cluster: { codes: [], word: "surgeon" } }, matrixOf({ x: [] }, 0), {}],
    [
      "too-few-clusters",
      { exit: [3], event: [1], cluster: { codes: [0], word: "ward" } },
      matrixOf({ x: [1] }),
      {},
    ],
    ["no-events", { ...base, event: [0, 0, 0, 0, 0, 0] }, x, {}],
    ["too-few-clusters", { ...base, cluster: { codes: [4, 4, 4, 4, 4, 4], word: "ward" } }, x, {}],
    ["too-few-repeats", { ...base, cluster: { codes: [0, 1, 2, 3, 4, 5], word: "patient" } }, x, {}],
    ["too-few-repeats", base, x, { fewestWithTwoEvents: 20 }],
    ["separation", { ...base, event: [1, 0, 0, 1, 0, 1] }, x, { fewestWithTwoEvents: 0 }],
    [
      "fewer-events-than-parameters",
      { ...base, event: [1, 1, 0, 0, 0, 0] },
      matrixOf({ a: [1, 2, 0, 1, 5, 2], b: [3, 1, 0, 2, 5, 3], c: [0, 4, 2, 7, 1, 3] }),
      { fewestWithTwoEvents: 0 },
    ],
  ])("answers %s", (code, columns, matrix, options) => {
    expect(frailtyRegression(columns, matrix, options)).toMatchObject({
      computed: false,
      code,
      because: expect.stringMatching(/^\D+$/),
    });
  });

  it.each([
    ["all on one day", { ...base, exit: [2, 2, 2, 2, 2, 2] }],
    [
      "an event on day 0, the last row an event",
      { ...base, exit: [0, 2, 3, 4, 5, 6], event: [1, 1, 1, 1, 1, 1] },
    ],
    [
      "a risk set that empties before late entries",
      { ...base, entry: [-1, -1, -1, 4, 4, 4], exit: [1, 2, 3, 5, 6, 7] },
    ],
    ["a cluster per row", { ...base, cluster: { codes: [0, 1, 2, 3, 4, 5], word: "patient" } }],
  ])("has a finite answer or a reason: %s", (_, columns) => {
    const answer = frailtyRegression(columns, x, { fewestWithTwoEvents: 0 });
    // Degrees of freedom beneath are null for chi-square.
    expect(JSON.stringify({ ...answer, terms: [] })).not.toMatch(/null|NaN|Infinity/);
    if (!answer.computed) expect(answer.because.length).toBeGreaterThan(20);
  });

  it("throws for what cannot be asked, saying what to do", () => {
    const { cluster: _, ...without } = base;
    expect(() => frailtyRegression(without, x)).toThrow("must name the cluster");
    const weight = { kind: "sampling", values: [1, 2, 1, 2, 1, 2] } as const;
    expect(() => frailtyRegression({ ...base, weight }, x)).toThrow("sampling weights");
    expect(() => frailtyRegression(base, x, { level: 95 })).toThrow("write 0.95");
    expect(() => frailtyRegression(base, x, { sameDay: "exact" as "efron" })).toThrow('"efron" or "breslow"');
    expect(() => frailtyRegression(base, x, { fewestWithTwoEvents: -1 })).toThrow("fewestWithTwoEvents");
  });

  it("notes few clusters, few events and late entries", () => {
    const { notes } = fitted(wards(4, { late: true }));
    for (const { plain } of notes) expect(plain).toMatch(/^\D+$/);
    const codes = notes.map(({ code }) => code);
    expect(codes).toEqual(expect.arrayContaining(["few-clusters", "late-entry"]));
  });
});

describe("medianHazardRatio()", () => {
  it("is 1 without a variance, and the upper quartile of F (closed forms)", () => {
    expect(medianHazardRatio(0)).toBe(1);
    // F on 2 and 2 lies above f with chance 1 / (1 + f); F on 1 and 1 is the square of a Cauchy variate.
    expectRelative(medianHazardRatio(1), 3, 1e-12);
    expectRelative(medianHazardRatio(2), Math.tan((3 * Math.PI) / 8) ** 2, 1e-12);
  });

  it("nears exp(√2 · 0.6745 · √θ) for a small variance, as normal effects would give", () => {
    for (const theta of [1e-3, 1e-5, 1e-7]) {
      const normal = Math.sqrt(2 * theta) * 0.674_489_750_196_081_7;
      expectRelative(Math.log(medianHazardRatio(theta)), normal, theta);
    }
  });
});
