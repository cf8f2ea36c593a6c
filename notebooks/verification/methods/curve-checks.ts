import type { ObservationColumns } from "../../../src/survival/observations.ts";
import { INTERVAL_SCALES } from "../../../src/survival/results.ts";
import type { ReferenceRecord } from "../../../tests/reference/reference-files.ts";
import { EXACT, toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Check, seriesCheck } from "../check.ts";
import { atEvents, curveOf, SCALE_NAMES } from "../curves.ts";

/** Survival, standard error, counts and limits on three scales of a record with all of them. */
export function curveChecks(columns: ObservationColumns, reference: ReferenceRecord): Check[] {
  const ours = atEvents(curveOf(columns));
  const { expected } = reference;
  return [
    seriesCheck("Survival", ours.survival, expected.survival, toleranceOf(reference)),
    seriesCheck("Standard error (Greenwood)", ours.standardError, expected.se, toleranceOf(reference)),
    ...countChecks(ours, expected),
    ...limitChecks(columns, reference),
  ];
}

interface Steps {
  readonly nRisk: readonly number[];
  readonly nEvent: readonly number[];
}

export function countChecks(ours: ReturnType<typeof atEvents>, expected: Steps): Check[] {
  return [
    seriesCheck("At risk", ours.atRisk, expected.nRisk, EXACT),
    seriesCheck("Events", ours.events, expected.nEvent, EXACT),
  ];
}

export function limitChecks(columns: ObservationColumns, reference: ReferenceRecord): Check[] {
  return INTERVAL_SCALES.map((scale) => {
    const { lower, upper } = atEvents(curveOf(columns, { scale }));
    const theirs = reference.expected.ci[SCALE_NAMES[scale]];
    // At survival 0 some programs print limits of a variance that is not defined there.
    const defined = (values: readonly unknown[]) =>
      values.map((value, at) => (reference.expected.survival[at] === 0 ? null : value));
    return seriesCheck(
      `95 % limits, ${scale} scale`,
      [...lower, ...upper],
      [...defined(theirs.lower), ...defined(theirs.upper)],
      toleranceOf(reference),
    );
  });
}

export function steps(
  suffix: string,
  ours: ReturnType<typeof atEvents>,
  // biome-ignore lint/suspicious/noExplicitAny: the shape of a reference record is its own
  theirs: any,
  reference: ReferenceRecord,
): Check[] {
  const tolerance = toleranceOf(reference);
  const alive = (values: readonly unknown[]) =>
    values.map((value, at) => (theirs.survival[at] === 0 ? null : value));
  return [
    seriesCheck(`Survival${suffix}`, ours.survival, theirs.survival, tolerance),
    seriesCheck(`Standard error${suffix}`, ours.standardError, alive(theirs.se), tolerance),
    seriesCheck(
      `95 % limits${suffix}`,
      [...ours.lower, ...ours.upper],
      [...alive(theirs.lower), ...alive(theirs.upper)],
      tolerance,
    ),
    seriesCheck(
      `At risk and events${suffix}`,
      [...ours.atRisk, ...ours.events],
      [...theirs.nRisk, ...theirs.nEvent],
      EXACT,
    ),
  ];
}
