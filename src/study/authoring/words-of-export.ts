import type { ExportDescriptor, ExportField } from "../../cases/descriptor.ts";
import { kindOfField } from "../../cases/field-kind.ts";
import { reasonWords } from "../../cases/reason-words.ts";
import { isFollowUpRole, TECHNIQUE_STEPS, type TechniqueStep } from "../../cases/roles.ts";

/** A field that a plan may name. */
export interface PlannedField {
  /** Its own name, and the role it carries as "role:ageYears". */
  readonly names: readonly string[];
  readonly title: string;
  readonly kind: "numbers" | "days" | "codes" | "texts";
  /** Codes of the file with their labels; empty unless the dictionary lists them. */
  readonly codes: readonly WordOfExport[];
}

export interface WordOfExport {
  readonly word: string;
  readonly label: string;
}

/** Everything a plan may name of an export, from its dictionary alone. */
export interface WordsOfExport {
  readonly fields: readonly PlannedField[];
  readonly steps: readonly { readonly step: TechniqueStep; readonly title: string }[];
  readonly reasons: readonly WordOfExport[];
  readonly statuses: readonly WordOfExport[];
}

/** Who a row is about, and how its follow-up began and ended: nothing to choose cases or adjust by. */
const NOT_FOR_A_PLAN: readonly string[] = ["caseId", "patientId", "entryDate", "followUpTime", "status"];

/** What a plan may name of an export. */
export function wordsOfExport(descriptor: ExportDescriptor): WordsOfExport {
  const { resources } = descriptor;
  // The first table holds the cases; the others bring revisions and deaths.
  const own = resources[0]?.schema.fields ?? [];
  const all = resources.flatMap(({ schema }) => schema.fields);
  const withRole = (role: string) => all.find((field) => field.role === role);
  return {
    fields: own.filter(isForAPlan).map(plannedField),
    steps: TECHNIQUE_STEPS.flatMap((step) => {
      const field = withRole(`technique:${step}`);
      return field === undefined ? [] : [{ step, title: titleOf(field) }];
    }),
    reasons: reasonWords(descriptor).map(({ value, label }) => ({ word: value, label: label ?? value })),
    statuses: (withRole("status")?.categories ?? []).flatMap(({ outcome, label }) =>
      outcome === undefined || outcome === "censored" ? [] : [{ word: outcome, label: label ?? outcome }],
    ),
  };
}

function isForAPlan({ role = "" }: ExportField): boolean {
  return !NOT_FOR_A_PLAN.includes(role) && !isFollowUpRole(role) && !role.endsWith(":recordedOn");
}

function plannedField(field: ExportField): PlannedField {
  const { name, role } = field;
  return {
    names: role === undefined ? [name] : [`role:${role}`, name],
    title: titleOf(field),
    kind: planKind(field),
    codes: codesOf(field),
  };
}

function planKind(field: ExportField): PlannedField["kind"] {
  if (field.categories !== undefined) return "codes";
  switch (kindOfField(field)) {
    case "number":
      return "numbers";
    case "day":
      return "days";
    default:
      return "texts";
  }
}

function codesOf({ categories }: ExportField): WordOfExport[] {
  return (categories ?? []).map(({ value, label }) => ({ word: value, label: label ?? value }));
}

function titleOf({ title, name }: ExportField): string {
  return title ?? name;
}
