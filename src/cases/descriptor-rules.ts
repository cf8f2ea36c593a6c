import { dayNumber } from "../base/day-number.ts";
import { isFixedDateFormat } from "./date-format.ts";
import type { ExportDescriptor, ExportField } from "./descriptor.ts";
import { isIdentifier, kindOfField } from "./field-kind.ts";
import { CASE_ROLES, isFieldRole, TECHNIQUE_STEPS } from "./roles.ts";

export interface DescriptorProblem {
  readonly path: readonly PropertyKey[];
  readonly text: string;
}

/** Units of followUpTime, as UCUM codes: days, months, years. */
export const FOLLOW_UP_UNITS = ["d", "mo", "a"] as const;
export const ENCODINGS = ["utf-8", "windows-1252"] as const;

const DATE_ROLES = [
  "operationDate",
  "entryDate",
  "revisionDate",
  "deathDate",
  "emigrationDate",
  "lastFollowUpDate",
];
const NUMBER_ROLES = ["followUpTime", "ageYears", "bmi"];
/** Keys of a dialect that we read, or whose one harmless value we accept. */
const DIALECT_KEYS: Readonly<Record<string, readonly unknown[] | "read">> = {
  delimiter: "read",
  quoteChar: "read",
  header: [true],
  doubleQuote: [true],
  skipInitialSpace: [false],
  lineTerminator: ["\n", "\r\n", "\r"],
  $schema: "read",
};
/** One byte tells a cell why it is missing, and some of its values are taken. */
const MOST_MISSING_REASONS = 200;

/** What the schema of keys and types cannot say: how roles, types and words must fit together. */
export function descriptorProblems(descriptor: ExportDescriptor): DescriptorProblem[] {
  const problems: DescriptorProblem[] = [];
  const fields = caseFields(descriptor);
  const add = (path: readonly PropertyKey[], text: string) => problems.push({ path, text });
  const addToField = (index: number) => (key: string, text: string) =>
    add([...FIELDS_PATH, index, ...(key === "" ? [] : [key])], text);
  checkResource(descriptor, add);
  checkStudy(descriptor, add);
  fields.forEach((field, index) => {
    const report = addToField(index);
    checkUniqueness(fields, index, report);
    checkRole(field, fields, report);
    checkWords(field, missingValuesOf(field, descriptor), report);
    checkTyping(field, report);
    checkConstraints(field, report);
  });
  checkRolesPresent(fields, descriptor, (text) => add(FIELDS_PATH, text));
  return problems;
}

const FIELDS_PATH = ["resources", 0, "schema", "fields"] as const;
type Report = (key: string, text: string) => void;
type ReportAt = (path: readonly PropertyKey[], text: string) => void;

/** Fields of the case table: the first resource. */
export function caseFields(descriptor: ExportDescriptor): readonly ExportField[] {
  return descriptor.resources[0]?.schema.fields ?? [];
}

/** Missing values of a field: its own list stands in place of the list of the table. */
export function missingValuesOf(
  field: ExportField,
  descriptor: ExportDescriptor,
): readonly { readonly value: string; readonly label: string }[] {
  return field.missingValues ?? descriptor.resources[0]?.schema.missingValues ?? [];
}

function checkResource(descriptor: ExportDescriptor, add: ReportAt): void {
  const resource = descriptor.resources[0];
  if (resource === undefined) return;
  const at = (...keys: PropertyKey[]) => ["resources", 0, ...keys];
  if (/^([a-z]+:|[/\\])/i.test(resource.path) || resource.path.split(/[/\\]/).includes("..")) {
    add(at("path"), "must lie in the descriptor's own folder; write it relative and without ..");
  }
  if (resource.format === "parquet" || /\.parquet$/i.test(resource.path)) {
    add(at("path"), "Parquet is not read by this version; write the table as CSV");
  }
  const { encoding = "utf-8" } = resource;
  if (!(ENCODINGS as readonly string[]).includes(encoding.toLowerCase())) {
    add(at("encoding"), `not read by this version; accepted: ${ENCODINGS.join(", ")}`);
  }
  const { dialect = {} } = resource;
  for (const [key, value] of Object.entries(dialect)) {
    const accepted = DIALECT_KEYS[key];
    if (accepted === "read" || accepted?.includes(value) === true) continue;
    add(
      at("dialect", key),
      `not supported; accepted: ${Object.keys(DIALECT_KEYS).join(", ")} with their usual values`,
    );
  }
  const { delimiter = ",", quoteChar = '"' } = dialect;
  for (const [key, mark] of [
    ["delimiter", delimiter],
    ["quoteChar", quoteChar],
  ] as const) {
    // The scan compares bytes, and a mark that is a letter, digit or line end would cut values apart.
    if (!/^[\t -~]$/.test(mark) || /[A-Za-z0-9.-]/.test(mark)) {
      add(at("dialect", key), "must be one ASCII mark that is no letter, digit, point or minus sign");
    }
  }
  if (delimiter === quoteChar) add(at("dialect"), "delimiter and quoteChar must differ");
}

function checkStudy({ study }: ExportDescriptor, add: ReportAt): void {
  if (study.invented && study.stamp === undefined) {
    add(["study", "stamp"], "missing; invented data need the text that is stamped on every page");
  }
  if (study.dataCut !== undefined && dayNumber(study.dataCut) === undefined) {
    add(["study", "dataCut"], "not a calendar date; write it as 2024-12-31");
  }
}

function checkUniqueness(fields: readonly ExportField[], index: number, report: Report): void {
  const earlier = fields.slice(0, index);
  const field = fields[index];
  if (field === undefined) return;
  if (earlier.some(({ name }) => name === field.name))
    report("name", `"${field.name}" is used by an earlier field`);
  if (field.role !== undefined && earlier.some(({ role }) => role === field.role)) {
    report("role", `two fields have the role "${field.role}"; one field may carry it`);
  }
}

function checkRole(field: ExportField, fields: readonly ExportField[], report: Report): void {
  const { role } = field;
  if (role === undefined) return;
  if (!isFieldRole(role)) {
    const steps = TECHNIQUE_STEPS.join(", ");
    report(
      "role",
      `unknown role "${role}"; accepted: ${CASE_ROLES.join(", ")}, and technique:<step> with ${steps}`,
    );
    return;
  }
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
  if (field.type === "date" && !isFixedDateFormat(field.format ?? "default")) {
    report(
      "format",
      'must be "default" (2024-12-31) or hold %d, %m and %Y once each, such as "%d/%m/%Y"; nothing is guessed',
    );
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

function checkRolesPresent(
  fields: readonly ExportField[],
  { study }: ExportDescriptor,
  report: (text: string) => void,
): void {
  const has = (role: string) => fields.some((field) => field.role === role);
  if (!has("caseId")) report('no field has the role "caseId"; one column must name each case');
  const hasDates = has("operationDate");
  const hasDurations = has("followUpTime") && has("status");
  if (!hasDates && !hasDurations) {
    report('needs a field with the role "operationDate", or two with the roles "followUpTime" and "status"');
  }
  if (!hasDates || hasDurations) return;
  if (!has("revisionDate"))
    report('"operationDate" needs a field with the role "revisionDate": nothing else says what was revised');
  if (!has("lastFollowUpDate") && study.dataCut === undefined) {
    report(
      '"operationDate" needs a field with the role "lastFollowUpDate", or study.dataCut: follow-up must end somewhere',
    );
  }
}
