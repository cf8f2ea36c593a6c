import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { type CurveOptions, kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import type { SurvivalSteps } from "../../src/survival/results.ts";
import { numberColumn, referenceRows, wholeTicks } from "../../tests/reference/reference-files.ts";

export type Row = Readonly<Record<string, string>>;

/** Names of the interval scales in the reference files. */
export const SCALE_NAMES = { "log-minus-log": "log-log", log: "log", linear: "plain" } as const;

/** Times and events of a file of the reference data, in whole ticks. */
export function columnsOf(
  file: string,
  { keep = () => true, perUnit = 1 }: { keep?: (row: Row) => boolean; perUnit?: number } = {},
): ObservationColumns {
  const rows = referenceRows(file).filter(keep);
  return { exit: wholeTicks(numberColumn(rows, "time"), perUnit), event: numberColumn(rows, "status") };
}

/** The curve of one group. */
export function curveOf(columns: ObservationColumns, options: CurveOptions = {}, group = 0): SurvivalSteps {
  return present(kaplanMeier(countsByTime(columns), options).groups[group], "a curve");
}

/** Columns of a curve at its events only: tables and references leave the other ticks out. */
export function atEvents(steps: SurvivalSteps) {
  const places = [...steps.time.keys()].filter((step) => (steps.eventsAt[step] ?? 0) > 0);
  const pick = <Value>(values: readonly Value[]) => places.map((place) => values[place]);
  return {
    time: pick(steps.time),
    atRisk: pick(steps.atRisk),
    events: pick(steps.eventsAt),
    survival: pick(steps.survival),
    standardError: pick(steps.standardError),
    lower: pick(steps.lower),
    upper: pick(steps.upper),
  };
}

/** A value that the examples always have; its absence stops the report. */
export function present<Value>(value: Value | undefined, what: string): Value {
  if (value === undefined) throw new Error(`verification: ${what} is missing`);
  return value;
}

/** An answer that the examples always have; a refusal stops the report with its reason. */
export function answered<Value extends { readonly computed: boolean }>(
  answer: Value | undefined,
): Extract<Value, { readonly computed: true }> {
  if (answer?.computed !== true) {
    const because = answer !== undefined && "because" in answer ? String(answer.because) : "no answer";
    throw new Error(`verification: a value was expected: ${because}`);
  }
  // `computed` is true, which the compiler does not carry into Extract.
  return answer as Extract<Value, { readonly computed: true }>;
}
