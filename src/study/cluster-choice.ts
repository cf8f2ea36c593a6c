import type { Cases } from "../cases/cases.ts";
import { betweenGroupShare } from "../summaries/between-group-share.ts";
import { columnOfRole } from "../technique/named-column.ts";
import { countUnits, type RowCodes, rowCodes } from "../technique/row-codes.ts";
import type { ClusterChoice } from "./facts.ts";
import type { RowClusters } from "./observations.ts";
import type { StudyPlan } from "./plan.ts";

/** A surgeon's share of the choice above which intervals are clustered on surgeons. */
const CHOSEN_BY_SURGEON = 0.5;

/**
 * What intervals between groups are clustered on.
 *
 * "auto" takes the level at which the step is chosen: the surgeon if over half of the variance of belonging to the first
 * group lies between surgeons, else the patient. Without a field, or with one row a cluster, rows are independent.
 */
export function chooseClusters(
  cases: Cases,
  plan: StudyPlan,
  rows: Int32Array,
  group: Uint8Array,
): { choice: ClusterChoice; clusters: RowClusters | undefined } {
  const wanted = plan.clusters ?? "auto";
  if (wanted === "none") return independent("The plan declares every row independent.");
  const surgeons = codesOfRole(cases, "surgeon");
  const patients = codesOfRole(cases, "patientId");
  if (wanted === "surgeon" || wanted === "patient") {
    return clustered(wanted, wanted === "surgeon" ? surgeons : patients, rows, "The plan declares it.");
  }
  const share = surgeons === undefined ? undefined : surgeonShare(surgeons, rows, group);
  if (share !== undefined && share > CHOSEN_BY_SURGEON) {
    return clustered(
      "surgeon",
      surgeons,
      rows,
      `Over half of the variance of the step (${percentWords(share)}) lies between surgeons.`,
    );
  }
  const why =
    share === undefined
      ? "No field names the surgeon, so what lies between surgeons is unknown."
      : `Of the variance of the step ${percentWords(share)} lies between surgeons, not over half.`;
  return clustered("patient", patients, rows, why);
}

function codesOfRole(cases: Cases, role: "surgeon" | "patientId"): RowCodes | undefined {
  const column = columnOfRole(cases, role);
  return column === undefined ? undefined : rowCodes(column);
}

function surgeonShare(surgeons: RowCodes, rows: Int32Array, group: Uint8Array): number | undefined {
  const inFirst = Float64Array.from(rows, (row) => (group[row] === 0 ? 1 : 0));
  const share = betweenGroupShare(
    inFirst,
    Int32Array.from(rows, (row) => surgeons.codes[row] ?? 0),
  );
  return share.computed ? share.share : undefined;
}

function clustered(by: "surgeon" | "patient", codes: RowCodes | undefined, rows: Int32Array, reason: string) {
  if (codes === undefined)
    return independent(`No field names the ${by}, so every row is taken as independent.`);
  const clusters = countUnits(rows, codes).persons;
  if (clusters === rows.length) return independent(`Every row is a ${by} of its own.`);
  if (clusters < 2) return independent(`There is one ${by} only; rows are taken as independent.`);
  return { choice: { by, clusters, reason }, clusters: { codes: codes.codes, word: by } };
}

function independent(reason: string): { choice: ClusterChoice; clusters: undefined } {
  return { choice: { by: "none", clusters: 0, reason }, clusters: undefined };
}

function percentWords(share: number): string {
  return `${Math.round(100 * share)} %`;
}
