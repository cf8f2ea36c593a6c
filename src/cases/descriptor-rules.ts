import { dayNumber } from "../base/day-number.ts";
import type { ExportDescriptor, ExportField } from "./descriptor.ts";
import { checkField } from "./field-rules.ts";
import { checkLinks, LINKED_ROLES, linkedResources } from "./linkage-rules.ts";
import { STATED_ENCODINGS } from "./text-encoding.ts";

export interface DescriptorProblem {
  readonly path: readonly PropertyKey[];
  readonly text: string;
}

/** Keys of a dialect that we read, or whose one harmless value we accept. */
const DIALECT_KEYS: Readonly<Record<string, readonly unknown[] | "read">> = {
  delimiter: "read",
  quoteChar: "read",
  header: [true],
  doubleQuote: [true],
  skipInitialSpace: [false],
  lineTerminator: ["\n", "\r\n", "\r"],
  $schema: "read",
  sheetName: "read",
  sheetNumber: "read",
};
/** What the schema of keys and types cannot say: how roles, types and words must fit together. */
export function descriptorProblems(descriptor: ExportDescriptor): DescriptorProblem[] {
  const problems: DescriptorProblem[] = [];
  const fields = caseFields(descriptor);
  const add = (path: readonly PropertyKey[], text: string) => problems.push({ path, text });
  const addToField = (index: number) => (key: string, text: string) =>
    add([...FIELDS_PATH, index, ...(key === "" ? [] : [key])], text);
  checkResource(descriptor, add);
  checkLinks(descriptor, add);
  checkLinkedTables(descriptor, add);
  checkStudy(descriptor, add);
  fields.forEach((field, index) => {
    checkField(index, fields, missingValuesOf(field, descriptor), addToField(index));
  });
  checkRolesPresent(fields, descriptor, (text) => add(FIELDS_PATH, text));
  return problems;
}

/** Second tables are read by the same rules as the first. */
function checkLinkedTables(descriptor: ExportDescriptor, add: ReportAt): void {
  for (const resource of linkedResources(descriptor)) {
    const index = descriptor.resources.indexOf(resource);
    const alone = { ...descriptor, resources: [resource] };
    checkResource(alone, (path, text) => add(["resources", index, ...path.slice(2)], text));
    resource.schema.fields.forEach((field, at) => {
      const path = ["resources", index, "schema", "fields", at];
      checkField(at, resource.schema.fields, missingValuesOf(field, alone), (key, text) =>
        add([...path, ...(key === "" ? [] : [key])], text),
      );
    });
  }
}

const FIELDS_PATH = ["resources", 0, "schema", "fields"] as const;
type ReportAt = (path: readonly PropertyKey[], text: string) => void;

/** Fields of the case table: the first resource. */
export function caseFields(descriptor: ExportDescriptor): readonly ExportField[] {
  return descriptor.resources[0]?.schema.fields ?? [];
}

/** The files of a resource, in their order. */
export function pathsOf(path: string | readonly string[]): readonly string[] {
  return typeof path === "string" ? [path] : path;
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
  const paths = pathsOf(resource.path);
  if (paths.some((path) => /^([a-z]+:|[/\\])/i.test(path) || path.split(/[/\\]/).includes(".."))) {
    add(at("path"), "must lie in the descriptor's own folder; write it relative and without ..");
  }
  if (new Set(paths).size < paths.length) add(at("path"), "names a file twice; its rows would count twice");
  const { encoding = "utf-8" } = resource;
  if (!(STATED_ENCODINGS as readonly string[]).includes(encoding.toLowerCase())) {
    add(at("encoding"), `not read by this version; accepted: ${STATED_ENCODINGS.join(", ")}`);
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
  if (dialect.sheetName !== undefined && dialect.sheetNumber !== undefined) {
    add(at("dialect"), "sheetName and sheetNumber both say which sheet; keep one");
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

function checkRolesPresent(
  fields: readonly ExportField[],
  descriptor: ExportDescriptor,
  report: (text: string) => void,
): void {
  const { study } = descriptor;
  const brought = broughtRoles(descriptor);
  const has = (role: string) => brought.includes(role) || fields.some((field) => field.role === role);
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

/** Roles that second tables give to the cases. */
function broughtRoles(descriptor: ExportDescriptor): readonly string[] {
  return linkedResources(descriptor).flatMap(({ holds, schema }) => {
    const taken: readonly string[] = holds === undefined ? [] : LINKED_ROLES[holds];
    return schema.fields.flatMap(({ role }) => (role !== undefined && taken.includes(role) ? [role] : []));
  });
}
