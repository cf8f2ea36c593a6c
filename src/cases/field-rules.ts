import { dayNumber } from "../base/day-number.ts";
import { isFixedDateFormat } from "./date-format.ts";
import type { ExportField } from "./descriptor.ts";
import { isIdentifier, kindOfField } from "./field-kind.ts";
import { saysTicked } from "./reason-ticks.ts";
import { REVISION_REASONS } from "./revision-reasons.ts";
import { CASE_ROLES, isFieldRole, REASON_TICK, TECHNIQUE_STEPS } from "./roles.ts";

/** Units of followUpTime, as UCUM codes: days, months, years. */
export const FOLLOW_UP_UNITS = ["d", "mo", "a"] as const;

const DATE_ROLES = [
  "operationDate",
  "entryDate",
  "revisionDate",
  "deathDate",
  "emigrationDate",
  "lastFollowUpDate",
  "radiographDate",
  "radiographFindingDate",
];
const NUMBER_ROLES = ["followUpTime", "ageYears", "bmi"];
/** One byte tells a cell why it is missing, and some of its values are taken. */
const MOST_MISSING_REASONS = 200;

type Report = (key: string, text: string) => void;

/** What is wrong with one field, reported under the key that should change. */
export function checkField(
  index: number,
  fields: readonly ExportField[],
  missing: readonly { readonly value: string }[],
  report: Report,
): void {
  const field = fields[index];
  if (field === undefined) return;
  checkUniqueness(field, fields.slice(0, index), report);
  checkRole(field, fields, report);
  checkWords(field, missing, report);
  checkTyping(field, report);
  checkConstraints(field, report);
}

function checkUniqueness(field: ExportField, earlier: readonly ExportField[], report: Report): void {
  if (earlier.some(({ name }) => name === field.name))
    report("name", `"${field.name}" is used by an earlier field`);
  // Lysis and loosening may have a column of ticks each, and mean one reason.
  const mayRepeat = field.role?.startsWith(REASON_TICK) === true;
  if (field.role !== undefined && !mayRepeat && earlier.some(({ role }) => role === field.role)) {
    report("role", `two fields have the role "${field.role}"; one field may carry it`);
  }
}

function checkRole(field: ExportField, fields: readonly ExportField[], report: Report): void {
  const { role } = field;
  if (role === undefined) return;
  if (!isFieldRole(role)) {
    const steps = `technique:<step> with ${TECHNIQUE_STEPS.join(", ")}`;
    const ticks = `${REASON_TICK}<reason> with ${REVISION_REASONS.join(", ")}`;
    report("role", `unknown role "${role}"; accepted: ${CASE_ROLES.join(", ")}, ${steps}, and ${ticks}`);
    return;
  }
  if (role.startsWith(REASON_TICK)) checkTicks(field, fields, report);
  const isRecordedOn = role.endsWith(":recordedOn");
  if ((isRecordedOn || DATE_ROLES.includes(role)) && field.type !== "date") {
    report("type", `must be "date" for the role "${role}"`);
  }
  if (NUMBER_ROLES.includes(role) && kindOfField(field) !== "number") {
    report("type", `must be "number" or "integer", without categories, for the role "${role}"`);
  }
  if (role === "followUpTime" && !(FOLLOW_UP_UNITS as readonly (string | undefined)[]).includes(field.unit)) {
    report(
      "unit",
      `must be one of ${FOLLOW_UP_UNITS.join(", ")} (days, months, years) for the role "followUpTime"`,
    );
  }
  if (isRecordedOn) {
    const step = role.slice(0, -":recordedOn".length);
    if (!fields.some((other) => other.role === step)) report("role", `needs a field with the role "${step}"`);
  }
}

/** A column of ticks says yes or no in the file's own words. */
function checkTicks(field: ExportField, fields: readonly ExportField[], report: Report): void {
  const { type, role, categories } = field;
  if (type !== "boolean" && categories === undefined) {
    report(
      "type",
      `must be "boolean" for the role "${role}", or have categories, of which those that say no have "absent": true`,
    );
  }
  if (categories?.every(({ value }) => !saysTicked(field, value)) === true) {
    report(
      "categories",
      "none of the words says that the reason was given; take absent from the one that does",
    );
  }
  if (fields.some((other) => other.role === "revisionReason" && other.type === "list")) {
    report(
      "role",
      'the field with the role "revisionReason" is a list already; keep the list or the columns of ticks',
    );
  }
}

function checkWords(field: ExportField, missing: readonly { value: string }[], report: Report): void {
  const { role = "", categories = [] } = field;
  const isStep = role.startsWith("technique:") && !role.endsWith(":recordedOn");
  if (isStep && categories.length === 0) {
    report(
      "categories",
      "missing; a technique field needs categories that say which recorded state each word means",
    );
  }
  if (role === "status" && categories.length === 0) {
    report("categories", "missing; a status field needs categories that say what ended follow-up");
  }
  if (isIdentifier(field) && categories.length > 0) report("categories", "an identifier has no categories");
  const stateless = categories.filter(({ state }) => isStep !== (state !== undefined));
  for (const { value } of stateless) {
    report(
      "categories",
      isStep ? `"${value}" has no state` : `"${value}" has a state, but the field is no technique step`,
    );
  }
  for (const { value, outcome } of categories) {
    const has = outcome !== undefined;
    if (has === (role === "status")) continue;
    report(
      "categories",
      has ? `"${value}" has an outcome, but the role is not status` : `"${value}" has no outcome`,
    );
  }
  const values = categories.map(({ value }) => value);
  for (const value of repeated(values)) report("categories", `"${value}" stands twice`);
  for (const { value } of missing) {
    if (values.includes(value))
      report("categories", `"${value}" is also declared as a missing value; keep one`);
  }
  for (const value of repeated(missing.map((each) => each.value)))
    report("missingValues", `"${value}" stands twice`);
  if (missing.length > MOST_MISSING_REASONS)
    report("missingValues", `at most ${MOST_MISSING_REASONS} are read`);
}

function repeated(values: readonly string[]): string[] {
  return [...new Set(values.filter((value, index) => values.indexOf(value) < index))];
}

function checkTyping(field: ExportField, report: Report): void {
  if (field.type === "date" && !isFixedDateFormat(field.format ?? "default", field.twoDigitYearsFrom)) {
    report(
      "format",
      'must be "default" (2024-12-31) or hold %d, %m and %Y once each, such as "%d/%m/%Y"; nothing is guessed; ' +
        "%y stands for a year of two digits and needs twoDigitYearsFrom, the first year that can be meant",
    );
  }
  for (const key of ["twoDigitYearsFrom", "serialDates"] as const) {
    if (field[key] !== undefined && field.type !== "date") report(key, "is for dates only");
  }
  if (field.type === "list" && (field.role !== "revisionReason" || field.categories === undefined)) {
    report("type", '"list" is for a field with the role "revisionReason" and with categories');
  }
  if (field.groupChar !== undefined)
    report("groupChar", "not supported; write numbers without marks between thousands");
  if (field.bareNumber === false)
    report("bareNumber", "not supported; write numbers without units or signs of currency");
  if (field.trueValues !== undefined || field.falseValues !== undefined) {
    report(
      field.trueValues !== undefined ? "trueValues" : "falseValues",
      "not supported; list the words as categories",
    );
  }
}

function checkConstraints(field: ExportField, report: Report): void {
  const { minimum, maximum } = field.constraints ?? {};
  const kind = kindOfField(field);
  for (const limit of [minimum, maximum]) {
    if (limit === undefined) continue;
    if (kind !== "number" && kind !== "day")
      report("constraints", "minimum and maximum are for numbers and dates");
    else if (limitValue(kind, limit) === undefined) {
      report(
        "constraints",
        kind === "day" ? "limits of a date are written as 2024-12-31" : "limits must be numbers",
      );
    }
  }
}

/** A limit in the units of the stored column: an amount, or a day number. */
export function limitValue(kind: "number" | "day", limit: number | string): number | undefined {
  if (kind === "day") return typeof limit === "string" ? dayNumber(limit) : undefined;
  return typeof limit === "number" && Number.isFinite(limit) ? limit : undefined;
}
