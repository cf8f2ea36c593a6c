import { describe, expect, it } from "vitest";
import type { Answer } from "../../src/base/answer.ts";
import { ArgumentError } from "../../src/base/errors.ts";
import { coxConcordance } from "../../src/regression/cox-concordance.ts";
import type { CoxOptions } from "../../src/regression/cox-options.ts";
import { coxProfileLimits } from "../../src/regression/cox-profile-limits.ts";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import { coxResiduals } from "../../src/regression/cox-residuals.ts";
import type { CoxFit } from "../../src/regression/cox-result.ts";
import { coxInfluence } from "../../src/regression/cox-row-influence.ts";
import { effectOverTime } from "../../src/regression/effect-over-time.ts";
import { hazardRatiosByPeriod } from "../../src/regression/hazard-ratios-by-period.ts";
import { baselineHazard } from "../../src/regression/predicted-curves.ts";
import { proportionalHazardsCheck } from "../../src/regression/proportional-hazards-check.ts";
import { standardisedCurves } from "../../src/regression/standardised-curves.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { type CoxExample, fitted, freireich, lung, matrixOf, monotone } from "./cox-examples.ts";

function example(
  columns: ObservationColumns,
  values: Readonly<Record<string, readonly number[]>>,
): CoxExample {
  return { columns, matrix: matrixOf(values, columns.exit.length) };
}

const X = { x: [0, 1, 0, 1, 1, 0] };

/** What befalls every estimator, and the answer that is expected of the fit. */
const EDGES: Readonly<Record<string, readonly [CoxExample, CoxOptions, string]>> = {
  nobody: [example({ exit: [], event: [] }, { x: [] }), {}, "no-rows"],
  "one case": [example({ exit: [3], event: [1] }, { x: [1] }), {}, "constant"],
  "no events": [example({ exit: [1, 2, 3, 4, 5, 6], event: [0, 0, 0, 0, 0, 0] }, X), {}, "no-events"],
  "all events": [example({ exit: [1, 2, 3, 4, 5, 6], event: [1, 1, 1, 1, 1, 1] }, X), {}, ""],
  "all tied": [example({ exit: [2, 2, 2, 2, 2, 2], event: [1, 1, 1, 0, 0, 1] }, X), {}, ""],
  "all tied, all events, discrete": [
    example({ exit: [2, 2, 2, 2, 2, 2], event: [1, 1, 1, 1, 1, 1] }, X),
    { sameDay: "exact" },
    "same-at-risk",
  ],
  "an event on tick 0": [example({ exit: [0, 2, 3, 4, 5, 6], event: [1, 1, 0, 1, 0, 1] }, X), {}, ""],
  "last case an event": [example({ exit: [1, 2, 3, 4, 5, 6], event: [1, 1, 0, 1, 0, 1] }, X), {}, ""],
  "an empty group": [
    example({ exit: [1, 2, 3, 4, 5, 6], event: [1, 1, 0, 1, 0, 1] }, { ...X, empty: [0, 0, 0, 0, 0, 0] }),
    {},
    "constant",
  ],
  "a risk set that empties before late entries": [
    example(
      { exit: [1, 2, 3, 8, 9, 10], event: [1, 1, 1, 1, 1, 0], entry: [-1, -1, -1, 6, 6, 6] },
      { x: [0, 1, 0, 1, 0, 0] },
    ),
    {},
    "",
  ],
  "a column that varies only after the last event": [
    example(
      { exit: [1, 2, 3, 4, 5, 6], event: [1, 1, 0, 0, 0, 0], entry: [-1, -1, -1, -1, -1, 3] },
      { x: [0, 0, 0, 0, 0, 1] },
    ),
    {},
    "same-at-risk",
  ],
  "fewer events than parameters": [
    example({ exit: [1, 2, 3, 4, 5, 6], event: [0, 1, 0, 0, 0, 0] }, { ...X, z: [1, 2, 4, 3, 9, 1] }),
    {},
    "fewer-events-than-parameters",
  ],
  "a cluster per row": [
    example(
      {
        exit: [1, 2, 3, 4, 5, 6],
        event: [1, 1, 1, 1, 0, 1],
        cluster: { codes: [5, 4, 3, 2, 1, 0], word: "ward" },
      },
      X,
    ),
    {},
    "",
  ],
  "one cluster": [
    example(
      {
        exit: [1, 2, 3, 4, 5, 6],
        event: [1, 1, 1, 1, 0, 1],
        cluster: { codes: [0, 0, 0, 0, 0, 0], word: "ward" },
      },
      X,
    ),
    {},
    "too-few-clusters",
  ],
  "a stratum without events": [
    example(
      {
        exit: [1, 2, 3, 4, 5, 6],
        event: [1, 1, 1, 1, 0, 0],
        stratum: { codes: [0, 0, 0, 0, 1, 1], labels: ["north", "south"] },
      },
      X,
    ),
    {},
    "",
  ],
  "weights of 0": [
    example(
      {
        exit: [1, 2, 3, 4, 5, 6],
        event: [1, 1, 1, 1, 0, 1],
        weight: { kind: "sampling", values: [1, 2, 0, 1, 1, 1] },
      },
      X,
    ),
    {},
    "",
  ],
  "all events in one group": [monotone(), {}, "separation"],
  "a covariate that falls with time": [
    example({ exit: [1, 2, 3, 4, 5, 6], event: [1, 1, 1, 1, 1, 1] }, { x: [9, 7, 6, 3, 2, 1] }),
    {},
    "separation",
  ],
};

function codeOf(answer: Answer<CoxFit>): string {
  if (!answer.computed) return answer.code;
  const refused = answer.columns.find(({ hazardRatio }) => !hazardRatio.computed)?.hazardRatio;
  return refused === undefined || refused.computed ? "" : refused.code;
}

function numbersOf(value: unknown): number[] {
  if (typeof value === "number") return [value];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(numbersOf) : [];
}

describe("coxRegression() and what is made of a fit, on thin input", () => {
  it.each(Object.entries(EDGES))("answers: %s", (_, [{ columns, matrix }, options, code]) => {
    const answer = coxRegression(columns, matrix, options);
    expect(codeOf(answer)).toBe(code);
    expect(numbersOf(answer).every(Number.isFinite)).toBe(true);
    if (!answer.computed) {
      expect(answer.because).toMatch(/^\D+$/);
      return;
    }
    const groups = [{ label: "as they are", matrix }];
    const [{ column } = { column: "x" }] = answer.columns;
    const made = [
      coxResiduals(columns, matrix, answer),
      coxInfluence(columns, matrix, answer),
      coxConcordance(columns, matrix, answer),
      proportionalHazardsCheck(columns, matrix, answer),
      baselineHazard(columns, matrix, answer, { years: [0.01, 1] }),
      standardisedCurves(columns, matrix, answer, { groups, years: [0.01, 1] }),
      hazardRatiosByPeriod(columns, matrix, { ...options, term: column, cuts: [2] }),
      answer.estimated.includes(column) ? effectOverTime(columns, matrix, answer, { column }) : undefined,
      columns.cluster === undefined && columns.weight === undefined
        ? coxProfileLimits(columns, matrix, options)
        : undefined,
    ];
    expect(numbersOf(made).every(Number.isFinite)).toBe(true);
  });

  it("counts events for a parameter and strata that say nothing, and warns", () => {
    const [{ columns, matrix }] = EDGES["a stratum without events"] ?? [freireich()];
    const fit = fitted({ columns, matrix });
    expect(fit).toMatchObject({
      strata: 2,
      strataWithoutEvents: 1,
      events: 4,
      parameters: 1,
      eventsPerParameter: 4,
    });
    expect(fit.notes.map(({ code }) => code)).toEqual(["few-events-per-parameter"]);
    expect(fit.notes[0]?.text).toContain("4 events per coefficient");
    expect(fit.notes[0]?.plain).toMatch(/^few events for each coefficient: ratios are pulled away from 1/);
  });

  it("takes a cluster per row as the robust variance of rows", () => {
    const { columns, matrix } = lung();
    const cluster = { codes: Array.from(columns.exit, (_, row) => row), word: "row" };
    const one = fitted({ columns: { ...columns, cluster }, matrix });
    expect(one.covariance).toEqual(fitted({ columns, matrix }, { variance: "robust" }).covariance);
  });

  it("refuses the discrete likelihood where it would cost too much", () => {
    const exit = Array.from({ length: 8000 }, () => 1);
    const columns = { exit, event: exit.map((_, row) => row % 2) };
    const matrix = matrixOf({ x: exit.map((_, row) => row % 7), z: exit.map((_, row) => row % 11) });
    expect(coxRegression(columns, matrix, { sameDay: "exact" })).toMatchObject({ code: "exact-too-costly" });
  });

  it("fits beside a separated column what it fits on the rows that still say something (identity)", () => {
    const { columns, matrix } = lung();
    const [age, , ecog] = matrix.columns;
    if (age === undefined || ecog === undefined) throw new Error("a column is missing");
    const apart = Float64Array.from(columns.exit, (_, row) => (row % 5 === 0 ? 1 : 0));
    const event = Array.from(columns.event, (one, row) => (row % 5 === 0 ? 0 : one));
    const fit = fitted({
      columns: { exit: columns.exit, event },
      matrix: { ...matrix, columns: [age, { name: "apart", values: apart }, ecog] },
    });
    expect(fit.columns[1]?.hazardRatio).toMatchObject({ code: "separation" });
    expect(fit.columns[1]?.separation).toMatchObject({ ratioTends: "down", limit: { side: "upper" } });
    const rest = Array.from(apart.keys()).filter((row) => apart[row] === 0);
    const without = fitted({
      columns: { exit: rest.map((row) => columns.exit[row] ?? 0), event: rest.map((row) => event[row] ?? 0) },
      matrix: matrixOf({
        age: rest.map((row) => age.values[row] ?? 0),
        ecog: rest.map((row) => ecog.values[row] ?? 0),
      }),
    });
    expect(Math.abs(fit.logLikelihood - without.logLikelihood)).toBeLessThan(1e-6);
    for (const [at, other] of [
      [0, 0],
      [2, 1],
    ] as const) {
      const [ours, theirs] = [fit.columns[at]?.hazardRatio, without.columns[other]?.hazardRatio];
      if (!ours?.computed || !theirs?.computed) throw new Error("no ratio");
      expect(Math.abs(ours.logRatio - theirs.logRatio)).toBeLessThan(1e-7);
      expect(Math.abs(ours.standardError - theirs.standardError)).toBeLessThan(1e-7);
    }
  });
});

describe("coxRegression() refuses with a clear error", () => {
  const { columns, matrix } = freireich();
  const cluster = { codes: Array.from(columns.exit, (_, row) => row % 9), word: "ward" };
  const weight = { kind: "sampling", values: Array.from(columns.exit, () => 2) } as const;
  const [x] = matrix.columns;
  const CASES: Readonly<Record<string, readonly [() => unknown, RegExp]>> = {
    "a level of 95": [() => coxRegression(columns, matrix, { level: 95 }), /write 0.95/],
    "an unknown same-day rule": [
      // A caller without types may write anything.
      () => coxRegression(columns, matrix, { sameDay: "late" as "efron" }),
      /efron, breslow, exact/,
    ],
    "a cause that is not there": [() => coxRegression(columns, matrix, { event: ["flood"] }), /flood/],
    "clustered variance without a cluster": [
      () => coxRegression(columns, matrix, { variance: "clustered" }),
      /needs a cluster/,
    ],
    "a second cluster alone": [() => coxRegression(columns, matrix, { secondCluster: cluster }), /first one/],
    "a second cluster of another length": [
      () => coxRegression({ ...columns, cluster }, matrix, { secondCluster: { codes: [1], word: "x" } }),
      /1 codes/,
    ],
    "the model's variance with sampling weights": [
      () => coxRegression({ ...columns, weight }, matrix, { variance: "model" }),
      /robust/,
    ],
    "the discrete likelihood with weights": [
      () => coxRegression({ ...columns, weight }, matrix, { sameDay: "exact" }),
      /takes no weights/,
    ],
    "a matrix of more rows": [
      () => coxRegression({ exit: [1], event: [1] }, matrix),
      /must name a row of the observations/,
    ],
    "a row named twice": [
      () => coxRegression(columns, { ...matrix, rows: new Int32Array(42) }),
      /must name a row of the observations/,
    ],
    "two columns of one name": [
      () => coxRegression(columns, { ...matrix, columns: [...matrix.columns, ...matrix.columns] }),
      /two columns named "x"/,
    ],
    "a column of another length": [
      () => coxRegression(columns, { ...matrix, columns: [{ name: "x", values: new Float64Array(2) }] }),
      /2 values/,
    ],
    "a value that is no number": [
      () =>
        coxRegression(columns, {
          ...matrix,
          columns: [
            {
              name: "x",
              values: (x?.values ?? new Float64Array(42)).map((v, at) => (at === 3 ? Number.NaN : v)),
            },
          ],
        }),
      /row 4 of the model matrix, x/,
    ],
    "residuals of another model": [
      () => coxResiduals(columns, matrixOf({ y: Array.from(columns.exit) }), fitted(freireich())),
      /other columns/,
    ],
    "a term that is not there": [
      () => hazardRatiosByPeriod(columns, matrix, { term: "y", cuts: [5] }),
      /no term "y"; its terms are "x"/,
    ],
    "cuts that do not ascend": [
      () => hazardRatiosByPeriod(columns, matrix, { term: "x", cuts: [5, 5] }),
      /ascending/,
    ],
    "profiles with clusters": [
      () => coxProfileLimits({ ...columns, cluster }, matrix),
      /must be independent/,
    ],
  };

  it.each(Object.entries(CASES))("%s", (_, [act, words]) => {
    expect(act).toThrow(ArgumentError);
    expect(act).toThrow(words);
  });

  it("and leaves the caller's arrays as they were", () => {
    const before = JSON.stringify([columns, matrix, [...(x?.values ?? [])]]);
    const fit = fitted({ columns, matrix });
    standardisedCurves(columns, matrix, fit, { groups: [{ label: "all", matrix }], years: [0.01] });
    expect(JSON.stringify([columns, matrix, [...(x?.values ?? [])]])).toBe(before);
  });
});
