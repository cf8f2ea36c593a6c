import { TIME_UNITS } from "../../../src/base/time-unit.ts";
import { completeness } from "../../../src/survival/completeness.ts";
import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { kaplanMeier } from "../../../src/survival/kaplan-meier.ts";
import { lossBounds } from "../../../src/survival/loss-bounds.ts";
import type { ObservationColumns } from "../../../src/survival/observations.ts";
import { INTERVAL_SCALES, type SurvivalCurve } from "../../../src/survival/results.ts";
import { reverseFollowUp } from "../../../src/survival/reverse-follow-up.ts";
import { type TimeReached, timeToFraction } from "../../../src/survival/time-to-fraction.ts";
import { numberColumn, referenceRecord, referenceRows } from "../../../tests/reference/reference-files.ts";
import { EXACT, toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Check, type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered, atEvents, columnsOf, present, type Row, SCALE_NAMES } from "../curves.ts";
import { REFERENCES } from "../references.ts";

/** Time until a share had the event, length of follow-up and its completeness. */
export function followUpChecks(): Method {
  return {
    id: "times-and-follow-up",
    title: "Time to a fraction, reverse follow-up, completeness",
    functions: ["timeToFraction", "reverseFollowUp", "completeness", "lossBounds"],
    notes: ["“none”: not reached within follow-up, on both sides."],
    examples: [...quartiles(), flatStretch(), conditional(), reversed(), complete(), lost()],
  };
}

function quartiles(): Example[] {
  const arm = (name: string) => (row: Row) => row.arm === name;
  const examples = [
    { title: "6-MP arm", id: "km.freireich.6mp", file: "freireich.csv", keep: arm("6-MP"), median: 23 },
    {
      title: "placebo arm",
      id: "km.freireich.placebo",
      file: "freireich.csv",
      keep: arm("placebo"),
      median: 8,
    },
    {
      title: "eight items of Kaplan and Meier 1958",
      id: "km.kaplan_meier_1958",
      file: "kaplan_meier_1958.csv",
      perUnit: 10,
    },
    { title: "ties of events and censorings", id: "km.ties_event_censor", file: "ties_event_censor.csv" },
  ];
  return examples.map(({ title, id, file, keep = () => true, perUnit = 1, median }) => {
    const columns = columnsOf(file, { keep, perUnit });
    const { expected } = referenceRecord("01_kaplan_meier", id);
    const quartilesOf = (scale: (typeof INTERVAL_SCALES)[number]) =>
      timesAt(kaplanMeier(countsByTime(columns), { scale }), perUnit);
    const theirs = (scale: (typeof INTERVAL_SCALES)[number]) => expected.ci[SCALE_NAMES[scale]].quantiles;
    return {
      title: `Times by which 25, 50 and 75 % had the event: ${title}`,
      ...(median !== undefined && { printedIn: "the median, in many texts" }),
      fromMemory: median !== undefined,
      reference: REFERENCES.survival,
      checks: [
        ...(median === undefined
          ? []
          : [
              valueCheck("Median", quartilesOf("linear").estimate[1], theirs("linear").estimate[1], EXACT, {
                figure: median,
                decimals: 0,
              }),
            ]),
        ...INTERVAL_SCALES.map((scale) =>
          quartileCheck(`${scale} limits`, quartilesOf(scale), theirs(scale)),
        ),
      ],
    };
  });
}

function lost(): Example {
  const bounds = lossBounds(
    { exit: [1, 2, 3, 6, 6], event: [1, 0, 1, 0, 0], timeUnit: TIME_UNITS.year },
    { lost: [0, 1, 0, 0, 0], possible: [9, 6, 9, 9, 9] },
    { risk: "net" },
  );
  const at = [1, 2, 3, 6];
  const values = (cases: "estimate" | "worst" | "best") => {
    const curve = bounds.risk === "net" ? bounds[cases].groups[0] : undefined;
    return at.map((tick) => curve?.survival[curve.time.findLastIndex((time) => time <= tick)]);
  };
  const tolerance = { relative: 1e-14, absolute: 0 };
  return {
    title: "Five cases, one of them lost in year 2 and possibly followed to year 6 (constructed)",
    fromMemory: false,
    reference: REFERENCES.closed,
    checks: [
      seriesCheck("Survival as seen", values("estimate"), [4 / 5, 4 / 5, 8 / 15, 8 / 15], tolerance),
      seriesCheck("Survival in the worst case", values("worst"), [4 / 5, 3 / 5, 2 / 5, 2 / 5], tolerance),
      seriesCheck("Survival in the best case", values("best"), [4 / 5, 4 / 5, 3 / 5, 3 / 5], tolerance),
    ],
  };
}

function flatStretch(): Example {
  const { expected } = referenceRecord("01_kaplan_meier", "km.median_flat");
  const ours = timesAt(kaplanMeier(countsByTime(columnsOf("median_flat.csv"))));
  return {
    title: "A curve that runs flat at exactly one half: the first day counts, not the middle of the stretch",
    fromMemory: false,
    reference: "the definition (first time at or below), by hand; survival 3.5-3 takes the middle, 5",
    checks: [
      valueCheck("Median", ours.estimate[1], expected.medianTextbook, EXACT),
      seriesCheck("Quartiles", ours.estimate, expected.quartileTextbook, EXACT),
    ],
  };
}

function conditional(): Example {
  const { expected } = referenceRecord("01_kaplan_meier", "km.delayed_entry.channing.male");
  const rows = referenceRows("channing.csv").filter(
    (row) => row.sex === "male" && Number(row.exit) > Number(row.entry),
  );
  const columns: ObservationColumns = {
    entry: numberColumn(rows, "entry"),
    exit: numberColumn(rows, "exit"),
    event: numberColumn(rows, "status"),
  };
  const curve = kaplanMeier(countsByTime(columns), { from: 816 });
  return {
    title: "Quartile and median age at death of men given 68 years, delayed entry (Channing House)",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: [
      quartileCheck(
        "log-minus-log limits",
        timesAt(curve, 1, expected.quantiles816.p),
        expected.quantiles816,
      ),
    ],
  };
}

function reversed(): Example {
  const reference = referenceRecord("01_kaplan_meier", "km.reverse_followup.ovarian");
  const curve = reverseFollowUp(countsByTime(columnsOf("ovarian.csv")));
  const ours = atEvents(present(curve.groups[0], "a reversed curve"));
  const { curve: theirs, quantiles } = reference.expected;
  return {
    title: "Follow-up had nobody died: ovarian cancer trial, days",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: [
      seriesCheck("Share still followed", ours.survival, theirs.survival, toleranceOf(reference)),
      seriesCheck(
        "At risk of ending observation (deaths on the day gone first)",
        ours.atRisk,
        theirs.nRisk,
        EXACT,
      ),
      valueCheck("Median follow-up", timesAt(curve).estimate[1], quantiles.estimate[1], EXACT),
      quartileCheck("log-minus-log limits", timesAt(curve), quantiles),
    ],
  };
}

function complete(): Example {
  const columns = {
    exit: [10, 4, 6, 2],
    event: [0, 0, 1, 0],
    group: { codes: [0, 0, 1, 1], labels: ["A", "B"] },
    timeUnit: TIME_UNITS.year,
  };
  const { groups } = completeness(columns, [10, 10, 6, 10]);
  const ours = groups.map(({ share }) => answered(share).share);
  return {
    title: "Observed over possible time, two groups of two (constructed)",
    fromMemory: false,
    reference: `${REFERENCES.closed}: (10 + 4) / 20 and (6 + 2) / 16`,
    checks: [seriesCheck("Completeness", ours, [14 / 20, 8 / 16], EXACT)],
  };
}

interface Times {
  readonly estimate: readonly (number | null)[];
  readonly lower: readonly (number | null)[];
  readonly upper: readonly (number | null)[];
}

function timesAt(curve: SurvivalCurve, perUnit = 1, fractions: readonly number[] = [0.25, 0.5, 0.75]): Times {
  const times = fractions.map((fraction) => answered(timeToFraction(curve, fraction).groups[0]?.time));
  const inUnits = (reached: TimeReached) => (reached.reached ? reached.tick / perUnit : null);
  return {
    estimate: times.map((time) => inUnits(time.estimate)),
    lower: times.map((time) => inUnits(time.lower)),
    upper: times.map((time) => inUnits(time.upper)),
  };
}

function quartileCheck(scale: string, ours: Times, theirs: Times): Check {
  const all = ({ estimate, lower, upper }: Times) => [...estimate, ...lower, ...upper];
  return seriesCheck(`Times with ${scale}`, all(ours), all(theirs), EXACT);
}
