import { type Answer, notComputed } from "../../base/answer.ts";
import type { Column } from "../../base/column.ts";
import { TIME_UNITS } from "../../base/time-unit.ts";
import type { Cases } from "../../cases/cases.ts";
import { columnOfRole } from "../../cases/column-of-role.ts";
import type { FieldRole } from "../../cases/roles.ts";
import { expectedEvents } from "../../survival/expected-events.ts";
import { observedAgainstExpected } from "../../survival/observed-against-expected.ts";
import { someRows } from "../../survival/some-rows.ts";
import type { StudyFacts } from "../facts.ts";
import type { StudyObservations } from "../observations.ts";
import type { StudyPlan } from "../plan/plan.ts";
import type { ExpectedGroup } from "./estimates.ts";

/**
 * Events of each group against those a table of rates leads one to expect.
 *
 * Needs the date of operation, age and sex; rows without one of them are left out of both sides, and counted. Ages
 * that are all whole are completed years, to which one half is added. No answer where follow-up is counted in other units
 * than days, which birthdays and New Year need.
 */
export function expectedByGroup(
  cases: Cases,
  { observations, rows }: StudyObservations,
  { bands }: NonNullable<StudyPlan["expectedRates"]>,
  facts: StudyFacts,
): Answer<{ readonly leftOut: number; readonly groups: readonly ExpectedGroup[] }> {
  const [start, age, sex] = (["operationDate", "ageYears", "sex"] satisfies FieldRole[]).map((role) =>
    columnOfRole(cases, role),
  );
  if (start?.kind !== "day" || age?.kind !== "number" || sex?.kind !== "code") {
    return notComputed(
      "roles-missing",
      "a table of rates needs fields for the date of operation, age and sex",
    );
  }
  if (observations.timeUnit.perYear !== TIME_UNITS.day.perYear) {
    return notComputed(
      "not-in-days",
      "a table of rates needs follow-up in days; give it in days or as dates",
    );
  }
  const isComplete = (row: number) => [start, age, sex].every((column: Column) => column.missing[row] === 0);
  const kept = [...rows.keys()].filter((place) => isComplete(rows[place] ?? 0));
  const rowOf = (place: number) => rows[place] ?? 0;
  const ages = kept.map((place) => age.values[rowOf(place)] ?? 0);
  const half = ages.every(Number.isInteger) ? 0.5 : 0;
  const result = expectedEvents(
    {
      ...someRows(observations, kept),
      startDay: kept.map((place) => start.values[rowOf(place)] ?? 0),
      ageAtStart: { unit: "years", values: ages.map((years) => years + half) },
      sex: { codes: kept.map((place) => sex.values[rowOf(place)] ?? 0), labels: sex.codes },
    },
    bands,
    { event: [facts.cause] },
  );
  return {
    computed: true,
    leftOut: rows.length - kept.length,
    groups: result.groups.map(({ group, observed, expected }) => ({
      group,
      observed,
      against: expected.computed
        ? observedAgainstExpected(observed, expected.events, { level: facts.level })
        : notComputed(expected.code, expected.because),
    })),
  };
}
