import { REVISION_REASONS, type RevisionReason } from "./revision-reasons.ts";

/** What a field can stand for, so that local column names need no code. */
export const CASE_ROLES = [
  "caseId",
  "patientId",
  "side",
  "centre",
  "surgeon",
  "operatorGrade",
  "operationDate",
  "entryDate",
  "revisionDate",
  "revisionReason",
  "revisionSide",
  "loosenedComponent",
  "deathDate",
  "emigrationDate",
  "lastFollowUpDate",
  "radiographDate",
  "radiographFinding",
  "radiographFindingDate",
  "followUpTime",
  "status",
  "ageYears",
  "sex",
  "bmi",
  "asaGrade",
  "diagnosis",
  "fixation",
  "stem",
  "implantCode",
  "cementCode",
  "viscosity",
  "sclerosis",
] as const;
export type CaseRole = (typeof CASE_ROLES)[number];

/** Technique steps that the package knows. A field for one has the role `technique:<step>`. */
export const TECHNIQUE_STEPS = [
  "tourniquet",
  "pulsedLavage",
  "drilling",
  "vacuumMixing",
  "gloveChange",
  "antibioticCement",
  "seatedInWorkingPhase",
  "cementOnBoneAndImplant",
  "pressurisation",
  "tibiaFirst",
  "extensionAtCure",
  "stillUntilSet",
  "excessCheck",
] as const;
export type TechniqueStep = (typeof TECHNIQUE_STEPS)[number];

/** Before the reason in the role of a field of ticks: `revisionReason:infection`. */
export const REASON_TICK = "revisionReason:";

/** `technique:<step>` holds the recorded state; `technique:<step>:recordedOn` the day it was written down. */
export type FieldRole =
  | CaseRole
  | `technique:${TechniqueStep}`
  | `technique:${TechniqueStep}:recordedOn`
  | `revisionReason:${RevisionReason}`;

const FOLLOW_UP_ROLES: readonly string[] = [
  "revisionDate",
  "revisionReason",
  "revisionSide",
  "loosenedComponent",
  "deathDate",
  "emigrationDate",
  "lastFollowUpDate",
  "radiographDate",
  "radiographFinding",
  "radiographFindingDate",
] satisfies readonly CaseRole[];

/** Whether a role is of something that happens after the operation, and to some cases never. */
export function isFollowUpRole(role: string): boolean {
  return FOLLOW_UP_ROLES.includes(role) || role.startsWith(REASON_TICK);
}

export function isFieldRole(text: string): text is FieldRole {
  if ((CASE_ROLES as readonly string[]).includes(text)) return true;
  if (text.startsWith(REASON_TICK)) {
    return (REVISION_REASONS as readonly string[]).includes(text.slice(REASON_TICK.length));
  }
  const [prefix, step, part, ...rest] = text.split(":");
  const known = prefix === "technique" && (TECHNIQUE_STEPS as readonly string[]).includes(step ?? "");
  return known && rest.length === 0 && (part === undefined || part === "recordedOn");
}
