import { requiredDayNumber } from "../../base/day-number.ts";
import { UsageError } from "../../base/errors.ts";
import { joinFindings } from "../../base/finding-log.ts";
import type { Cases } from "../../cases/cases.ts";
import { checkCases } from "../../cases/check-cases.ts";
import { columnOfRole } from "../../cases/column-of-role.ts";
import type { ExportDescriptor } from "../../cases/descriptor.ts";
import { readCases } from "../../cases/read-cases.ts";
import type { Cohort } from "../../cohort/cohort.ts";
import { selectCohort } from "../../cohort/select-cohort.ts";
import type { Exhibit } from "../../disclosure/exhibit.ts";
import { countUnits, personCodes, type RowCodes, type UnitCount } from "../../technique/row-codes.ts";
import {
  fieldLevels,
  NO_LEVEL,
  operationYearLevels,
  type RowLevels,
  surgeonLevels,
} from "../../technique/row-levels.ts";
import { exportPath, type NotebookSource } from "../notebook/notebook-source.ts";
import { type RunHashes, runHashes } from "../notebook/run-hashes.ts";
import { type RecordedStep, recordedSteps } from "../recorded-steps.ts";
import { refuseErrors } from "../refuse-errors.ts";
import { type AllSteps, allSteps } from "./all-steps.ts";
import { type ChangeOfStep, changeOfStep } from "./change-of-step.ts";
import type { AdherenceStudy } from "./define-adherence.ts";
import { adherenceExhibits } from "./exhibits/all.ts";
import type { AdherencePlan, Standard } from "./plan.ts";
import { type Reading, reading } from "./reading.ts";
import { requireAdherencePlan } from "./require-adherence-plan.ts";
import { type StepShares, stepShares } from "./step-shares.ts";

/** One step of the audit. */
export interface StepAdherence {
  readonly label: string;
  readonly shares: StepShares;
  readonly standard?: Standard;
  /** What the records say about the standard; absent without one. */
  readonly reading?: Reading;
  readonly change?: ChangeOfStep;
}

/** The steps at the levels of one kind: years, centres, kinds of bone. */
export interface SharesAtLevels {
  readonly title: string;
  readonly levels: readonly {
    readonly label: string;
    /** Surgeons who operate there; absent where no field names the surgeon. */
    readonly surgeons?: number;
    /** In the order of the steps. */
    readonly steps: readonly StepShares[];
    /** The same before and after the day of a change, where the plan has one. */
    readonly sides?: { readonly before: readonly StepShares[]; readonly after: readonly StepShares[] };
  }[];
  /** Rows at no level, where there are any. */
  readonly elsewhere: readonly StepShares[] | undefined;
}

/** Everything a page on adherence is made from, at full precision. */
export interface AdherenceRun {
  readonly plan: AdherencePlan;
  readonly notebook: NotebookSource;
  readonly descriptor: ExportDescriptor;
  readonly hashes: RunHashes;
  readonly level: number;
  readonly fewestRecorded: number;
  readonly looked: UnitCount;
  readonly attrition: Cohort["attrition"];
  readonly steps: readonly StepAdherence[];
  readonly together: { readonly labels: readonly string[]; readonly found: AllSteps } | undefined;
  /** Absent where the export has no dates of operation. */
  readonly overYears: SharesAtLevels | undefined;
  readonly strata: readonly SharesAtLevels[];
  readonly exhibits: readonly Exhibit[];
}

/** What stays out of the page itself: the shares of all and of parts need the same things. */
interface Asked {
  readonly steps: readonly RecordedStep[];
  readonly rows: Int32Array;
  readonly persons: RowCodes;
  /** A zero a person, for `stepShares`. */
  readonly marks: Uint8Array<ArrayBuffer>;
  readonly level: number;
}

/**
 * Counts which steps were done among those whom the plan names. Of outcomes only the day of a revision is used: what was written
 * down after it counts as not recorded.
 *
 * @throws UsageError where the export cannot be used, records no step, or has no dates for what the plan asks.
 *
 * @example
 * const audit = defineAdherence({
 *   id: "what-we-do",
 *   title: "What we do",
 *   question: "Do we do what we say we do?",
 *   export: "../data/demo/datapackage.json",
 *   eligibility: [],
 *   steps: ["pulsedLavage"],
 *   standards: [{ step: "pulsedLavage", percentAtLeast: 90, reason: "agreed in the unit" }],
 * });
 * const run = await runAdherence(audit, notebookSource("notebooks/what-the-unit-does.ts"));
 * run.steps[0]?.reading; // "missed"
 */
export async function runAdherence(
  { plan }: AdherenceStudy,
  notebook: NotebookSource,
): Promise<AdherenceRun> {
  const cases = await readCases(exportPath(plan, notebook));
  requireAdherencePlan(cases, plan);
  refuseErrors(joinFindings(cases.findings, checkCases(cases)));
  const { level = 0.95, fewestRecorded = 20 } = plan;
  const persons = personCodes(cases);
  const cohort = selectCohort(cases, plan.eligibility);
  const asked: Asked = {
    steps: recordedSteps(cases, plan.steps),
    rows: cohort.rows,
    persons,
    marks: new Uint8Array(persons.count),
    level,
  };
  const sides = plan.change === undefined ? undefined : beforeAndAfter(cases, cohort.rows, plan.change.on);
  const steps = stepsOf(asked, plan, fewestRecorded, sides);
  const run = {
    plan,
    notebook,
    descriptor: cases.descriptor,
    hashes: runHashes(cases, plan, notebook),
    level,
    fewestRecorded,
    looked: countUnits(asked.rows, asked.persons),
    attrition: cohort.attrition,
    steps,
    together: togetherOf(plan, asked),
    overYears: atLevels(cases, asked, operationYearLevels(cases, plan.yearsInBlock), sides),
    strata: (plan.strata ?? []).flatMap((name) => atLevels(cases, asked, fieldLevels(cases, name)) ?? []),
  };
  return { ...run, exhibits: adherenceExhibits(run) };
}

function stepsOf(
  asked: Asked,
  plan: AdherencePlan,
  fewestRecorded: number,
  sides: Sides | undefined,
): StepAdherence[] {
  const { steps, rows, persons, marks, level } = asked;
  return steps.map(({ step, label, states }) => {
    const sharesOf = (some: ArrayLike<number>) => stepShares(states, some, persons, level, marks);
    const shares = sharesOf(rows);
    const standard = plan.standards.find((one) => one.step === step);
    return {
      label,
      shares,
      ...(standard === undefined
        ? {}
        : {
            standard,
            reading: reading({ ...shares, recorded: shares.recorded.units }, standard, fewestRecorded),
          }),
      ...(sides === undefined
        ? {}
        : { change: changeOfStep(sharesOf(sides.before), sharesOf(sides.after), { level, fewestRecorded }) }),
    };
  });
}

/** Rows on either side of the day of a change. */
interface Sides {
  readonly before: Int32Array;
  readonly after: Int32Array;
}

function beforeAndAfter(cases: Cases, rows: Int32Array, on: string): Sides {
  const operated = columnOfRole(cases, "operationDate");
  if (operated?.kind !== "day") {
    throw new UsageError(
      "no-operation-dates",
      'change: the export has no field of dates with the role "operationDate", so before and after cannot be told apart; ' +
        "leave the change out, or ask for an export with dates",
    );
  }
  const day = requiredDayNumber(on, "change.on");
  // Rows without a date are on neither side.
  const known = rows.filter((row) => operated.missing[row] === 0);
  const before = known.filter((row) => (operated.values[row] ?? 0) < day);
  const after = known.filter((row) => (operated.values[row] ?? 0) >= day);
  if (before.length === 0 || after.length === 0) {
    throw new UsageError(
      "one-side",
      `change: no operation lies ${before.length === 0 ? "before" : "on or after"} ${on}; name a day within the export`,
    );
  }
  return { before, after };
}

function togetherOf(plan: AdherencePlan, { steps, rows, persons, level }: Asked): AdherenceRun["together"] {
  const names = plan.together ?? plan.standards.flatMap((one) => ("percentAtLeast" in one ? [one.step] : []));
  const found = steps.filter(({ step }) => names.includes(step));
  if (found.length < 2) return undefined;
  return { labels: found.map(({ label }) => label), found: allSteps(found, rows, persons, level) };
}

function atLevels(
  cases: Cases,
  asked: Asked,
  levels: RowLevels | undefined,
  sides?: Sides,
): SharesAtLevels | undefined {
  if (levels === undefined) return undefined;
  const rowsOf = new Map<number, number[]>();
  for (const row of asked.rows) {
    const code = levels.codes[row] ?? NO_LEVEL;
    const kept = rowsOf.get(code);
    if (kept === undefined) rowsOf.set(code, [row]);
    else kept.push(row);
  }
  const sharesOf = (rows: readonly number[]) =>
    asked.steps.map(({ states }) => stepShares(states, rows, asked.persons, asked.level, asked.marks));
  const surgeon = surgeonLevels(cases);
  const surgeonsOf = (rows: readonly number[]) =>
    surgeon === undefined
      ? {}
      : { surgeons: new Set(rows.map((row) => surgeon.codes[row]).filter((code) => code !== NO_LEVEL)).size };
  const before = new Set(sides?.before);
  const sidesOf = (rows: readonly number[]) =>
    sides === undefined
      ? {}
      : {
          sides: {
            before: sharesOf(rows.filter((row) => before.has(row))),
            after: sharesOf(rows.filter((row) => !before.has(row))),
          },
        };
  const outside = rowsOf.get(NO_LEVEL);
  return {
    title: levels.title,
    levels: levels.labels.flatMap((label, code) => {
      const rows = rowsOf.get(code);
      return rows === undefined
        ? []
        : [{ label, ...surgeonsOf(rows), steps: sharesOf(rows), ...sidesOf(rows) }];
    }),
    elsewhere: outside === undefined ? undefined : sharesOf(outside),
  };
}
