import { TIME_UNITS } from "../../../src/base/time-unit.ts";
import { addCounts } from "../../../src/survival/add-counts.ts";
import { checkObservations } from "../../../src/survival/check-observations.ts";
import { conditionalSurvival } from "../../../src/survival/conditional-survival.ts";
import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { countsFromTable } from "../../../src/survival/counts-from-table.ts";
import { kaplanMeier } from "../../../src/survival/kaplan-meier.ts";
import type { ObservationColumns } from "../../../src/survival/observations.ts";
import {
  codeColumn,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, seriesCheck } from "../check.ts";
import { atEvents, columnsOf, curveOf, present, type Row } from "../curves.ts";
import { REFERENCES } from "../references.ts";
import { curveChecks, steps } from "./curve-checks.ts";

/** The same knees counted at two places, one of them by another engine, and added. */
export function countedInParts(): Example {
  const reference = record("km.freireich.6mp");
  const { exit, event } = columnsOf("freireich.csv", { keep: (row: Row) => row.arm === "6-MP" });
  const rows = Array.from(exit, (tick, at) => ({ tick, event: event[at] ?? 0 }));
  const [one, other] = [rows.filter((_row, at) => at % 2 === 0), rows.filter((_row, at) => at % 2 === 1)];
  const added = addCounts([
    countsByTime({ exit: one.map(({ tick }) => tick), event: one.map((row) => row.event) }),
    countsFromTable(other.map((row) => ({ tick: row.tick, events: [row.event], censored: 1 - row.event }))),
  ]);
  const curve = atEvents(present(kaplanMeier(added).groups[0], "a curve"));
  return {
    title: "The 6-MP arm counted in two parts, one of them from a table, and added",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: [
      seriesCheck("Survival", curve.survival, reference.expected.survival, toleranceOf(reference)),
      seriesCheck(
        "Standard error (Greenwood)",
        curve.standardError,
        reference.expected.se,
        toleranceOf(reference),
      ),
    ],
  };
}

export function ties(): Example {
  const [tied, rounded] = [
    record("km.ties_event_censor"),
    referenceRecord("18_float_ties", "floatties.difference"),
  ];
  const rows = referenceRows("float_ties.csv");
  const days = {
    exit: numberColumn(rows, "yearsDifference").map((year) => Math.round(year * 365.25)),
    event: numberColumn(rows, "status"),
  };
  return {
    title: "Events and censorings on one day; days that differ only by rounding (constructed)",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: [
      ...curveChecks(columnsOf("ties_event_censor.csv"), tied),
      seriesCheck(
        "Survival, years turned into days",
        atEvents(curveOf(days)).survival,
        rounded.expected.days.km,
        toleranceOf(rounded),
      ),
    ],
  };
}

export function copies(): Example {
  const reference = record("km.weighted.integer");
  const rows = referenceRows("aml_weighted.csv");
  const labels = ["Maintained", "Nonmaintained"];
  const columns: ObservationColumns = {
    exit: numberColumn(rows, "time"),
    event: numberColumn(rows, "status"),
    group: codeColumn(rows, "group", labels),
    weight: { kind: "copies", values: numberColumn(rows, "wInt") },
  };
  return {
    title: "Rows that stand for several cases, log limits (leukaemia maintenance, invented weights)",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: labels.flatMap((label, group) => {
      const ours = atEvents(curveOf(columns, { scale: "log" }, group));
      return steps(`, ${label.toLowerCase()}`, ours, reference.expected[label], reference);
    }),
  };
}

export function delayedEntry(): Example[] {
  return ["male", "female"].map((sex) => {
    const reference = record(`km.delayed_entry.channing.${sex}`);
    const rows = referenceRows("channing.csv").filter(
      (row) => row.sex === sex && Number(row.exit) > Number(row.entry),
    );
    const columns = checkObservations({
      entry: numberColumn(rows, "entry"),
      exit: numberColumn(rows, "exit"),
      event: numberColumn(rows, "status"),
      timeUnit: TIME_UNITS.month,
    });
    const [later] = conditionalSurvival(countsByTime(columns), { givenYear: 68 }).groups;
    return {
      title: `Age at death in a retirement home, delayed entry, ${sex} (Channing House)`,
      fromMemory: false,
      reference: REFERENCES.survival,
      checks: [
        ...steps(
          ", from the first entry",
          atEvents(curveOf(columns)),
          reference.expected.unconditional,
          reference,
        ),
        ...steps(
          ", given survival to 68 years",
          atEvents(present(later, "a conditional curve")),
          reference.expected.conditional816,
          reference,
        ),
      ],
    };
  });
}

const record = (id: string) => referenceRecord("01_kaplan_meier", id);
