import { planError } from "../base/plan-error.ts";
import type { Cases } from "../cases/cases.ts";
import { columnOfRole } from "../cases/column-of-role.ts";
import { betweenGroupShare } from "../summaries/between-group-share.ts";
import { type ExposureGroups, NOT_COMPARED } from "../technique/exposure.ts";
import { countUnits, type RowCodes, rowCodes } from "../technique/row-codes.ts";
import type { ClusterChoice } from "./facts.ts";
import type { RowClusters } from "./observations.ts";
import type { StudyPlan } from "./plan/plan.ts";

/** A surgeon's share of the choice above which intervals are clustered on surgeons. */
const CHOSEN_BY_SURGEON = 0.5;

/**
 * What intervals between groups are clustered on.
 *
 * "auto" takes the level at which the step is chosen: the surgeon if over half of the variance of belonging to the first
 * group lies between surgeons, else the patient. With one row a cluster, rows are independent. Rows that are not compared
 * take no part.
 *
 * @throws UsageError `no-cluster-field` where the plan names a level that the export has no field for.
 */
export function chooseClusters(
  cases: Cases,
  plan: StudyPlan,
  followed: Int32Array,
  groups: ExposureGroups,
): { choice: ClusterChoice; clusters: RowClusters | undefined } {
  const wanted = plan.clusters ?? "auto";
  if (wanted === "none") return independent("The plan declares every row independent.");
  const rows = followed.filter((row) => groups.group[row] !== NOT_COMPARED);
  const level =
    wanted === "auto" ? levelOfChoice(cases, rows, groups) : { by: wanted, reason: "The plan declares it." };
  requireClusters(cases, plan);
  const codes = codesOfRole(cases, ROLE[level.by]);
  if (level.by === "surgeon" && codes !== undefined && countUnits(rows, codes).persons < 2) {
    return clustered(
      "patient",
      codesOfRole(cases, ROLE.patient),
      `There is one surgeon only. ${level.reason}`,
      rows,
      groups,
    );
  }
  return clustered(level.by, codes, level.reason, rows, groups);
}

/**
 * Refuses clusters that the export cannot tell apart.
 *
 * @throws UsageError `no-cluster-field`.
 */
export function requireClusters(cases: Cases, { clusters = "auto" }: Pick<StudyPlan, "clusters">): void {
  if (clusters === "auto" || clusters === "none" || cases.fieldOfRole.has(ROLE[clusters])) return;
  const what =
    `no field of the export has the role "${ROLE[clusters]}"; give the field its role in the dictionary, ` +
    'or declare clusters "none"';
  throw planError([{ code: "no-cluster-field", place: "clusters", what, written: clusters }]);
}

function clustered(
  by: "surgeon" | "patient",
  codes: RowCodes | undefined,
  reason: string,
  rows: Int32Array,
  groups: ExposureGroups,
): { choice: ClusterChoice; clusters: RowClusters | undefined } {
  if (codes === undefined)
    return independent(`${reason} No field names the ${by}; every row is taken as independent.`);
  const clusters = countUnits(rows, codes).persons;
  if (clusters === rows.length) return independent(`Every row is a ${by} of its own.`);
  if (clusters < 2) return independent(`There is one ${by} only; rows are taken as independent.`);
  const fewestInGroup = Math.min(
    ...groups.labels.map(
      (_label, code) =>
        countUnits(
          rows.filter((row) => groups.group[row] === code),
          codes,
        ).persons,
    ),
  );
  return { choice: { by, clusters, fewestInGroup, reason }, clusters: { codes: codes.codes, word: by } };
}

const ROLE = { surgeon: "surgeon", patient: "patientId" } as const;

/** Who chooses the step, as far as the export can tell. */
function levelOfChoice(
  cases: Cases,
  rows: Int32Array,
  groups: ExposureGroups,
): { by: "surgeon" | "patient"; reason: string } {
  const surgeons = codesOfRole(cases, ROLE.surgeon);
  if (surgeons === undefined) {
    return { by: "patient", reason: "No field names the surgeon, so what lies between surgeons is unknown." };
  }
  const inFirst = new Float64Array(rows).map((row) => (groups.group[row] === 0 ? 1 : 0));
  const between = betweenGroupShare(
    inFirst,
    rows.map((row) => surgeons.codes[row] ?? 0),
  );
  if (!between.computed)
    return { by: "patient", reason: `What lies between surgeons cannot be told: ${between.because}.` };
  const percent = `${Math.round(100 * between.share)} %`;
  return between.share > CHOSEN_BY_SURGEON
    ? { by: "surgeon", reason: `Over half of the variance of the step (${percent}) lies between surgeons.` }
    : {
        by: "patient",
        reason: `Of the variance of the step ${percent} lies between surgeons, not over half.`,
      };
}

function codesOfRole(cases: Cases, role: "surgeon" | "patientId"): RowCodes | undefined {
  const column = columnOfRole(cases, role);
  return column === undefined ? undefined : rowCodes(column);
}

function independent(reason: string): { choice: ClusterChoice; clusters: undefined } {
  return { choice: { by: "none", clusters: 0, fewestInGroup: 0, reason }, clusters: undefined };
}
