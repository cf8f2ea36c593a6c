import { type Answer, computed, type NotComputed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { choleskyFactor, choleskySolve, type SymmetricMatrix } from "../numeric/symmetric-matrix.ts";
import type { ObservationColumns } from "../survival/observations.ts";
import { expectedAt, informationOf } from "./cox-likelihood.ts";
import type { CoxFit, ModelTest } from "./cox-result.ts";
import { type CoxState, coxState } from "./cox-state.ts";
import { quadraticTest } from "./cox-tests.ts";
import { eventTimeScale, TIME_SCALES, type TimeScale } from "./event-time-scale.ts";
import type { ModelMatrix } from "./model-matrix.ts";

/** Whether the ratios of a fit change over time. */
export interface ProportionalHazardsCheck {
  readonly kind: "proportionalHazardsCheck";
  readonly settings: {
    readonly scale: TimeScale;
    /** Always the model's, also where rows are clustered. */
    readonly variance: "model";
  };
  readonly terms: readonly { readonly term: string; readonly test: Answer<ModelTest> }[];
  readonly all: Answer<ModelTest>;
}

/**
 * Whether hazard ratios are constant: the score test of adding, to each column, its product with time.
 *
 * Exact information is used, not the approximation by an average variance. Time is one minus the Kaplan–Meier survival just
 * before the tick, over all rows of the fit ("survival"), or one of the other scales. Each term is tested with the
 * coefficients of all columns free. The test is model-based: with clusters it is too ready to find a change.
 *
 * Source: Grambsch and Therneau 1994, with the information at each event rather than its mean.
 *
 * @example
 * const x = { kind: "number", field: "x", values: Float64Array.of(1, 0, 1, 0, 1, 0), missing: new Uint8Array(6), missingReasons: [] } as const;
 * const matrix = modelMatrix([x], [numberTerm("x")]);
 * const rows = { exit: [1, 2, 3, 4, 5, 6], event: [1, 0, 1, 1, 0, 1] };
 * const fit = coxRegression(rows, matrix);
 * if (!fit.computed) throw new Error(fit.because);
 * proportionalHazardsCheck(rows, matrix, fit); // chi-square 1.70 on 1 degree of freedom, p 0.193
 */
export function proportionalHazardsCheck(
  observations: ObservationColumns,
  matrix: ModelMatrix,
  fit: CoxFit,
  options: { readonly scale?: TimeScale } = {},
): Answer<ProportionalHazardsCheck> {
  const { scale = "survival" } = options;
  if (!TIME_SCALES.includes(scale)) {
    throw new ArgumentError(`proportionalHazardsCheck: scale must be one of ${TIME_SCALES.join(", ")}`);
  }
  const set = coxState("proportionalHazardsCheck", observations, matrix, fit);
  if (!set.computed) return set;
  const { state } = set;
  const time = eventTimeScale(state.rows, scale);
  if (!time.computed) return time;
  const change = changeScore(state, time.factor);
  const names = state.columns.map(({ name }) => name);
  const all = testOf(change, [...names.keys()]);
  return computed({
    kind: "proportionalHazardsCheck",
    settings: { scale, variance: "model" },
    terms: matrix.terms.map(({ name, from, columns }) => {
      const own = matrix.columns.slice(from, from + columns).map((column) => names.indexOf(column.name));
      return {
        term: name,
        test: testOf(
          change,
          own.filter((at) => at >= 0),
        ),
      };
    }),
    all,
  });
}

/** Score of the products with time, and its variance with the coefficients free. */
interface ChangeScore {
  readonly score: Float64Array;
  readonly variance: SymmetricMatrix | undefined;
}

function changeScore({ rows, values, point }: CoxState, factor: Float64Array): ChangeScore {
  const { cells, exitCell, eventRows, weight } = rows;
  const score = Float64Array.from(values, (column, j) => {
    let sum = 0;
    for (const i of eventRows) sum += (weight?.[i] ?? 1) * column[i]! * factor[exitCell[i]!]!;
    for (let cell = 0; cell < cells.count; cell += 1) {
      sum -= factor[cell]! * expectedAt(point.sums, point.terms, j, cell);
    }
    return sum;
  });
  const timesFactor = informationOf(rows, values, point.sums, point.terms, factor);
  const timesSquare = informationOf(
    rows,
    values,
    point.sums,
    point.terms,
    factor.map((value) => value * value),
  );
  const whole = choleskyFactor(point.information);
  if (whole === undefined) return { score, variance: undefined };
  const explained = timesFactor.map((line) => choleskySolve(whole, line));
  const variance = timesSquare.map((line, j) =>
    line.map((value, k) => value - timesFactor[k]!.reduce((sum, one, m) => sum + one * explained[j]![m]!, 0)),
  );
  return { score, variance };
}

function testOf({ score, variance }: ChangeScore, columns: readonly number[]): Answer<ModelTest> {
  if (variance === undefined) return noInformation();
  const block = columns.map((j) => columns.map((k) => variance[j]![k]!));
  return quadraticTest(
    columns.map((j) => score[j]!),
    block,
    { variance: "model", clusters: null },
  );
}

function noInformation(): NotComputed {
  return notComputed("no-curvature", "the likelihood does not bend at these coefficients");
}
