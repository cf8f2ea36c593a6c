import { type Answer, computed, notComputed } from "../base/answer.ts";
import { ArgumentError } from "../base/errors.ts";
import { chiSquareUpper } from "../numeric/chi-square.ts";
import { generalisedForm } from "../numeric/generalised-form.ts";
import type { CountsByTime } from "./counts.ts";
import { causeIndex, crudeRoles } from "./event-roles.ts";
import { grayScore } from "./gray-score.ts";

export interface GrayOptions {
  /** The cause whose crude risks are compared. To be named wherever there are several. */
  readonly cause?: string;
  /** Weight of each tick: (1 − pooled incidence) to this power. 0 (default) treats all ticks alike, 1 stresses early ones. */
  readonly power?: number;
}

export interface GrayTest {
  readonly kind: "grayTest";
  readonly settings: { readonly cause: string; readonly power: number; readonly stratified: boolean };
  readonly groups: readonly {
    readonly group: string;
    readonly cases: number;
    readonly observed: number;
    /** Observed minus what the pooled incidence would have given; weighted where `power` is not 0. */
    readonly excess: number;
  }[];
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
}

/**
 * Whether groups differ in the cumulative incidence of a cause, competing causes included.
 *
 * Compares crude risks: deaths alone can cause a difference, so the cause-specific log-rank belongs beside it. Scores and
 * variance are Gray's, added over strata; ties between causes share one risk set. A group under observation at no event
 * of the cause takes no part. Not defined for delayed entry or weights, which are refused; clusters are not taken into
 * account, so its p says nothing where the groups were chosen by surgeon.
 *
 * Source: Gray 1988, Annals of Statistics 16:1141.
 *
 * @example
 * const counts = countsByTime({
 *   exit: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10],
 *   event: [1, 2, 1, 1, 0, 1, 2, 0, 1, 1],
 *   causes: ["revision", "death"],
 *   group: { codes: [0, 0, 0, 0, 0, 1, 1, 1, 1, 1], labels: ["a", "b"] },
 * });
 * grayTest(counts, { cause: "revision" }); // chi-square 3.73 on 1 degree of freedom: p 0.053
 */
export function grayTest(counts: CountsByTime, options: GrayOptions = {}): Answer<GrayTest> {
  const { cause = onlyCause(counts.causes), power = 0 } = options;
  const index = causeIndex("grayTest", counts.causes, cause);
  if (!Number.isFinite(power))
    throw new ArgumentError(`grayTest: power must be a finite number; received ${power}`);
  if (counts.delayedEntry) throw new ArgumentError("grayTest: the test is not defined with delayed entry");
  if (counts.weightKind !== undefined)
    throw new ArgumentError("grayTest: the test is not defined with weights");
  const roles = crudeRoles(counts.causes, index);
  const scores = counts.strata.map((_, stratum) => grayScore(counts, stratum, roles, power));
  const score = counts.groups.map((_, group) => sumOf(scores, (one) => one.score[group]));
  const variance = counts.groups.map((_, a) =>
    counts.groups.map((_, b) => sumOf(scores, (one) => one.variance[a]?.[b])),
  );
  const compared = counts.groups.flatMap((_, group) => ((variance[group]?.[group] ?? 0) > 0 ? [group] : []));
  if (compared.length < 2) {
    return notComputed(
      "nothing-to-compare",
      "fewer than two groups were under observation at an event of the cause",
    );
  }
  const { value: chiSquare, rank } = generalisedForm(score, variance);
  if (rank === 0) return notComputed("no-spread", "the groups leave no independent variation between them");
  return computed({
    kind: "grayTest",
    settings: { cause, power, stratified: counts.strata.length > 1 },
    groups: counts.groups.map((group, place) => {
      const cells = counts.cells.filter((cell) => cell.group === place);
      return {
        group,
        cases: sumOf(cells, (cell) => cell.cases),
        observed: sumOf(cells, (cell) => cell.events[index]?.reduce((a, b) => a + b, 0)),
        excess: score[place] ?? 0,
      };
    }),
    chiSquare,
    degreesOfFreedom: rank,
    p: chiSquareUpper(chiSquare, rank),
  });
}

/** Everywhere else "event" left out means all causes, which a test of one cause against the others cannot mean. */
function onlyCause(causes: readonly string[]): string {
  const [cause] = causes;
  if (cause !== undefined && causes.length === 1) return cause;
  throw new ArgumentError(`grayTest: name the cause to compare; the causes are ${causes.join(", ")}`);
}

function sumOf<Item>(items: readonly Item[], value: (item: Item) => number | undefined): number {
  return items.reduce((sum, item) => sum + (value(item) ?? 0), 0);
}
