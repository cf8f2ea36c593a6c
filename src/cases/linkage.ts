import { type CodeColumn, type Column, type DayColumn, isPresent } from "../base/column.ts";
import { contentHash } from "../base/content-hash.ts";
import type { Findings } from "../base/finding.ts";
import { type FindingLog, findingLog, joinFindings } from "../base/finding-log.ts";
import type { Cases } from "./cases.ts";
import type { ExportField } from "./descriptor.ts";
import { caseFields } from "./descriptor-rules.ts";
import { LINKED_ROLES, linkedResources } from "./linkage-rules.ts";
import { linkedFindings } from "./linked-findings.ts";
import { linkedReasons } from "./linked-reasons.ts";
import { type LinkageCounts, linkedRows, textAt } from "./linked-rows.ts";
import type { LoadedDescriptor } from "./load-descriptor.ts";
import type { CaseRole } from "./roles.ts";

/** Why a field of a second table is missing in a case. */
const NOT_LINKED = "no row in the second table";

/**
 * The cases with what their second tables say of each knee: the first revision, the death, the last radiograph, and the
 * first on which something was found.
 *
 * There are as many cases after it as before. Where the cases hold the same field, it is filled in; where both say
 * something and differ, that is an error, because which is right is not ours to say. So is a field of another kind than
 * the cases hold, and one that is neither dates nor words: left out, it would be missed by nobody. The counts of every
 * link are kept.
 */
export async function withLinkedTables(
  loaded: LoadedDescriptor,
  cases: Cases,
  read: (loaded: LoadedDescriptor) => Promise<Cases>,
): Promise<Cases> {
  let linked = cases;
  const radiographs: LinkedTable[] = [];
  for (const resource of linkedResources(loaded.descriptor)) {
    const { holds, name } = resource;
    const [key] = resource.schema.foreignKeys ?? [];
    if (holds === undefined || key === undefined) continue;
    const table = await read({ ...loaded, descriptor: { ...loaded.descriptor, resources: [resource] } });
    const log = findingLog();
    const keys = { cases: key.reference.fields, table: key.fields };
    const { counts, rowOfCase, caseOfRow } = linkedRows(linked, table, name, holds, keys, log);
    log.add({ code: "link-counts", severity: "note", field: name, details: countDetails(counts) });
    const before = linked;
    linked = LINKED_ROLES[holds].reduce(
      (cases, role) => withRole(cases, table, role, rowOfCase, log),
      before,
    );
    if (holds === "radiographs") radiographs.push({ table, caseOfRow });
    const ticked = linkedReasons(linked, { before, table, tableName: name, rowOfCase });
    linked = {
      ...linked,
      ...(ticked && { tickedReasons: ticked }),
      linkage: [...(linked.linkage ?? []), counts],
      source: {
        ...linked.source,
        fileHash: contentHash(`${linked.source.fileHash}\n${table.source.fileHash}`),
      },
      findings: joinFindings(linked.findings, ofTable(name, table.findings), log.findings()),
    };
  }
  // Last: which radiographs count depends on the revisions, and those may stand in a later table.
  return radiographs.reduce(withFindings, linked);
}

interface LinkedTable {
  readonly table: Cases;
  readonly caseOfRow: Int32Array;
}

function countDetails({ table: _table, holds, ...counts }: LinkageCounts) {
  return { holds, ...counts };
}

/** Rows of the second table are counted apart from those of the cases: its name stands before the field. */
function ofTable(name: string, findings: Findings): Findings {
  const named = <Place extends { readonly field?: string }>(place: Place): Place => ({
    ...place,
    field: place.field === undefined ? name : `${name}.${place.field}`,
  });
  const groups = findings.groups.map((group) => ({ ...named(group), first: group.first.map(named) }));
  return { ...findings, groups };
}

/** What was found on the radiographs of each knee, and on which day first. */
function withFindings(cases: Cases, { table, caseOfRow }: LinkedTable): Cases {
  const found = linkedFindings(table, caseOfRow, cases);
  if (found === undefined) return cases;
  const log = findingLog();
  const said = withRole(cases, table, "radiographFinding", found.saying, log);
  const dated = withRole(said, table, "radiographFindingDate", found.first, log, "radiographDate");
  return { ...dated, findings: joinFindings(dated.findings, log.findings()) };
}

/** Brings the field of one role; `from` names the role that it has in the second table where that is another. */
function withRole(
  cases: Cases,
  table: Cases,
  role: CaseRole,
  rowOfCase: Int32Array,
  log: FindingLog,
  from: CaseRole = role,
): Cases {
  const source = table.columns.get(table.fieldOfRole.get(from) ?? "");
  if (source === undefined) return cases;
  if (source.kind !== "day" && source.kind !== "code") {
    const details = { table: KIND_WORDS[source.kind] };
    log.add({ code: "link-kind-not-taken", severity: "error", field: source.field, details });
    return cases;
  }
  const known = cases.columns.get(cases.fieldOfRole.get(role) ?? "");
  if (known === undefined) return withNewField(cases, table, role, source, rowOfCase);
  if (known.kind !== source.kind || (known.kind !== "day" && known.kind !== "code")) {
    const details = { cases: KIND_WORDS[known.kind], table: KIND_WORDS[source.kind] };
    log.add({ code: "link-kinds-differ", severity: "error", field: known.field, details });
    return cases;
  }
  const merged = filledIn(known, source, rowOfCase, cases.source.lineOfRow, log);
  return { ...cases, columns: new Map(cases.columns).set(known.field, merged) };
}

const KIND_WORDS = { day: "dates", code: "words", number: "numbers", text: "identifiers" } as const;

function withNewField(
  cases: Cases,
  table: Cases,
  role: CaseRole,
  source: DayColumn | CodeColumn,
  rowOfCase: Int32Array,
): Cases {
  const [resource, ...others] = cases.descriptor.resources;
  const field = caseFields(table.descriptor).find(({ name }) => name === source.field);
  if (resource === undefined || field === undefined) return cases;
  const name = freeName(cases, table.descriptor.resources[0]?.name ?? "", field.name, role);
  const title = TITLE_OF_FIRST[role];
  const made = { ...field, name, role, ...(title !== undefined && { title }) };
  const fields: ExportField[] = [...resource.schema.fields, made];
  return {
    ...cases,
    columns: new Map(cases.columns).set(name, picked(source, name, rowOfCase)),
    fieldOfRole: new Map(cases.fieldOfRole).set(role, name),
    descriptor: {
      ...cases.descriptor,
      resources: [{ ...resource, schema: { ...resource.schema, fields } }, ...others],
    },
  };
}

const TITLE_OF_FIRST: Partial<Record<CaseRole, string>> = {
  radiographFindingDate: "first radiograph with a finding",
};

/** The name of the field, with its table's before it where the cases have one of that name, or named by its role. */
function freeName(cases: Cases, table: string, field: string, role: CaseRole): string {
  const names = [field, `${table}.${field}`, `${table}.${role}`];
  return names.find((name) => !cases.columns.has(name)) ?? `${table}.${field}.${role}`;
}

/** A column of the second table in the order of the cases. */
function picked(source: DayColumn | CodeColumn, field: string, rowOfCase: Int32Array): Column {
  const notLinked = source.missingReasons.length + 1;
  const missing = Uint8Array.from(rowOfCase, (row) =>
    row < 0 ? notLinked : (source.missing[row] ?? notLinked),
  );
  const common = { field, missing, missingReasons: [...source.missingReasons, NOT_LINKED] };
  const valueAt = (row: number) => (row < 0 ? 0 : (source.values[row] ?? 0));
  return source.kind === "day"
    ? { ...source, ...common, values: Int32Array.from(rowOfCase, valueAt) }
    : { ...source, ...common, values: Uint16Array.from(rowOfCase, valueAt) };
}

function filledIn(
  known: DayColumn | CodeColumn,
  source: DayColumn | CodeColumn,
  rowOfCase: Int32Array,
  lineOfRow: Uint32Array,
  log: FindingLog,
): Column {
  const values = known.values.slice();
  const missing = known.missing.slice();
  const valueAt = (row: number) =>
    known.kind === "code" ? known.codes.indexOf(textAt(source, row)) : (source.values[row] ?? 0);
  const report = (code: string, caseRow: number) =>
    log.add({ code, severity: "error", row: caseRow + 1, line: lineOfRow[caseRow] ?? 0, field: known.field });
  rowOfCase.forEach((row, caseRow) => {
    if (row < 0 || !isPresent(source, row)) return;
    const value = valueAt(row);
    if (value < 0 && known.kind === "code") report("word-not-in-dictionary", caseRow);
    else if (missing[caseRow] === 0 && values[caseRow] !== value) report("link-contradicts-case", caseRow);
    else {
      values[caseRow] = value;
      missing[caseRow] = 0;
    }
  });
  // The copy has the kind of what it was copied from.
  return { ...known, values, missing } as Column;
}
