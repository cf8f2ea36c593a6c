import { TIME_UNITS } from "../../../src/base/time-unit.ts";
import { addCounts } from "../../../src/survival/add-counts.ts";
import { checkObservations } from "../../../src/survival/check-observations.ts";
import { conditionalSurvival } from "../../../src/survival/conditional-survival.ts";
import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { countsFromTable } from "../../../src/survival/counts-from-table.ts";
import { cumulativeHazard } from "../../../src/survival/cumulative-hazard.ts";
import { kaplanMeier } from "../../../src/survival/kaplan-meier.ts";
import type { ObservationColumns } from "../../../src/survival/observations.ts";
import { INTERVAL_SCALES } from "../../../src/survival/results.ts";
import { smoothedHazard } from "../../../src/survival/smoothed-hazard.ts";
import {
  codeColumn,
  numberColumn,
  type ReferenceRecord,
  referenceRecord,
  referenceRows,
  wholeTicks,
} from "../../../tests/reference/reference-files.ts";
import { EXACT, toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Check, type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered, atEvents, columnsOf, curveOf, present, type Row, SCALE_NAMES } from "../curves.ts";
import { gammopathy } from "../gammopathy.ts";
import { REFERENCES } from "../references.ts";

const record = (id: string) => referenceRecord("01_kaplan_meier", id);

/** Kaplan–Meier curves, their variance and limits on three scales, values at years and cumulative hazard. */
export function kaplanMeierChecks(): Method {
  return {
    id: "kaplan-meier",
    title: "Kaplan–Meier: survival, standard errors, limits on three scales",
    functions: [
      "checkObservations",
      "countsByTime",
      "countsFromTable",
      "addCounts",
      "kaplanMeier",
      "conditionalSurvival",
      "cumulativeHazard",
      "smoothedHazard",
    ],
    notes: [
      "Where survival is 0 neither standard error nor limits are defined; the row counts as met when both sides say so.",
    ],
    examples: [
      sixMercaptopurine(),
      placebo(),
      kaplanAndMeier(),
      countedInParts(),
      ties(),
      copies(),
      ...delayedEntry(),
      years(),
      smoothed(),
    ],
  };
}

function sixMercaptopurine(): Example {
  const reference = record("km.freireich.6mp");
  const columns = columnsOf("freireich.csv", { keep: (row: Row) => row.arm === "6-MP" });
  const ours = atEvents(curveOf(columns));
  const { expected, published } = reference;
  const single = (
    what: string,
    values: readonly unknown[],
    theirs: number[],
    figures: number[],
    decimals: number,
  ) =>
    theirs.map((value, at) =>
      valueCheck(`${what}, week ${expected.time[at]}`, values[at], value, toleranceOf(reference), {
        figure: figures[at] ?? 0,
        decimals,
      }),
    );
  const hazard = present(cumulativeHazard(countsByTime(columns)).groups[0], "a hazard");
  const pick = (values: readonly number[]) => values.filter((_, step) => (hazard.eventsAt[step] ?? 0) > 0);
  return {
    title: "Remission of leukaemia in weeks, 6-MP arm (Freireich and others 1963)",
    printedIn: "Klein and Moeschberger, Survival Analysis, table 4.1A",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.survival,
    checks: [
      ...single("Survival", ours.survival, expected.survival, published.figures.survival, 3),
      ...single("Standard error (Greenwood)", ours.standardError, expected.se, published.figures.se, 4),
      ...countChecks(ours, expected),
      ...limitChecks(columns, reference),
      seriesCheck(
        "Cumulative hazard (Nelson–Aalen)",
        pick(hazard.hazard),
        expected.cumulativeHazardNelsonAalen,
        toleranceOf(reference),
      ),
      seriesCheck(
        "Standard error of the cumulative hazard",
        pick(hazard.standardError),
        expected.seCumulativeHazard,
        toleranceOf(reference),
      ),
    ],
  };
}

function smoothed(): Example {
  const reference = referenceRecord("21_clustered_means", "hazard.smoothed");
  const { expected } = reference;
  return {
    title: "Gammopathy data: hazard a year, smoothed over two years each way, at 13 times",
    fromMemory: false,
    reference: `${REFERENCES.survival} for the steps, the sum over the window written out`,
    checks: ["malignancy", "death"].flatMap((cause) => {
      const { groups } = smoothedHazard(countsByTime(gammopathy("sex")), {
        halfWindowYears: 2,
        stepYears: 1,
        event: [cause],
      });
      return ["F", "M"].flatMap((sex, at) => {
        const ours = answered(present(groups[at], "a group").smoothed);
        const theirs = expected[cause][sex];
        const pick = (values: readonly number[]) =>
          expected.times.map((time: number) => values[ours.time.indexOf(time)]) as unknown[];
        const words = `${cause}, ${sex === "F" ? "women" : "men"}`;
        return [
          seriesCheck(`Hazard, ${words}`, pick(ours.hazard), theirs.hazard, toleranceOf(reference)),
          seriesCheck(
            `Standard error, ${words}`,
            pick(ours.standardError),
            theirs.se,
            toleranceOf(reference),
          ),
          seriesCheck(
            `95 % limits, ${words}`,
            [...pick(ours.lower), ...pick(ours.upper)],
            [...theirs.lower, ...theirs.upper],
            toleranceOf(reference),
          ),
        ];
      });
    }),
  };
}

function placebo(): Example {
  const reference = record("km.freireich.placebo");
  return {
    title: "The same trial, placebo arm: everybody relapsed, the curve ends at 0",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: curveChecks(columnsOf("freireich.csv", { keep: (row: Row) => row.arm === "placebo" }), reference),
  };
}

function kaplanAndMeier(): Example {
  const reference = record("km.kaplan_meier_1958");
  const columns = columnsOf("kaplan_meier_1958.csv", { perUnit: 10 });
  const { survival } = atEvents(curveOf(columns));
  return {
    title: "Eight items, four deaths (Kaplan and Meier 1958)",
    printedIn: "Kaplan and Meier 1958, section 2",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.survival,
    checks: [
      seriesCheck("Survival", survival, reference.expected.survival, toleranceOf(reference), {
        figures: reference.published.figures.survival,
        decimals: 4,
      }),
      ...curveChecks(columns, reference).slice(1),
    ],
  };
}

/** The same knees counted at two places, one of them by another engine, and added. */
function countedInParts(): Example {
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

function ties(): Example {
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

function copies(): Example {
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

function delayedEntry(): Example[] {
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

/** The share with neither event in the competing-risk data is a Kaplan–Meier curve of either event. */
function years(): Example {
  const reference = referenceRecord("04_competing_risks", "cif.mgus2_by_sex");
  const rows = referenceRows("mgus2.csv");
  const asked = [1, 5, 10, 15];
  const { groups } = kaplanMeier(
    countsByTime({
      exit: wholeTicks(numberColumn(rows, "time"), 1),
      event: numberColumn(rows, "event").map((event) => Math.min(event, 1)),
      group: codeColumn(rows, "sex", ["F", "M"]),
      timeUnit: TIME_UNITS.month,
    }),
    { years: asked },
  );
  return {
    title:
      "Values at years: neither malignancy nor death in 1384 people with a gammopathy (Kyle and others 2002)",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: ["F", "M"].flatMap((sex, group) =>
      asked.map((year, at) => {
        const value = answered(groups[group]?.atYears[at]).value;
        const place = reference.expected[sex].times.indexOf(12 * year);
        const theirs = reference.expected[sex].eventFree[place];
        return valueCheck(
          `Survival at ${year} ${year === 1 ? "year" : "years"}, ${sex === "F" ? "women" : "men"}`,
          value,
          theirs,
          toleranceOf(reference),
        );
      }),
    ),
  };
}

/** Survival, standard error, counts and limits on three scales of a record with all of them. */
function curveChecks(columns: ObservationColumns, reference: ReferenceRecord): Check[] {
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

function countChecks(ours: ReturnType<typeof atEvents>, expected: Steps): Check[] {
  return [
    seriesCheck("At risk", ours.atRisk, expected.nRisk, EXACT),
    seriesCheck("Events", ours.events, expected.nEvent, EXACT),
  ];
}

function limitChecks(columns: ObservationColumns, reference: ReferenceRecord): Check[] {
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

function steps(
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
