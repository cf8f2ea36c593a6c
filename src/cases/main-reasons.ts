import type { Column } from "../base/column.ts";
import type { FindingLog } from "../base/finding-log.ts";
import type { ExportDescriptor } from "./descriptor.ts";
import { caseFields } from "./descriptor-rules.ts";
import { reasonsOfTicks } from "./reason-ticks.ts";
import { type MainReasons, type TickedReasons, tickedReasons } from "./ticked-reasons.ts";

/**
 * A list of reasons, or columns of ticks, become a column of main reasons; every reason given is kept beside it.
 *
 * Where no field states a main reason, the dictionary gets one more field.
 */
export function withMainReasons(
  descriptor: ExportDescriptor,
  columns: ReadonlyMap<string, Column>,
  lineOfRow: Uint32Array,
  log: FindingLog,
): {
  readonly columns: ReadonlyMap<string, Column>;
  readonly descriptor: ExportDescriptor;
  readonly ticked?: TickedReasons;
} {
  const fields = caseFields(descriptor);
  const reasons =
    listedReasons(descriptor, columns, lineOfRow, log) ?? reasonsOfTicks(fields, columns, lineOfRow, log);
  if (reasons === undefined) return { columns, descriptor };
  const { field, main, ticked } = reasons;
  return {
    columns: new Map([...columns, [main.field, main]]),
    descriptor: withField(descriptor, field),
    ticked,
  };
}

function listedReasons(
  descriptor: ExportDescriptor,
  columns: ReadonlyMap<string, Column>,
  lineOfRow: Uint32Array,
  log: FindingLog,
): MainReasons | undefined {
  const field = caseFields(descriptor).find(({ type, role }) => type === "list" && role === "revisionReason");
  const column = columns.get(field?.name ?? "");
  if (field === undefined || column?.kind !== "code") return undefined;
  return tickedReasons(field, column, lineOfRow, log);
}

/** The field in the place of the one of its name, or behind all others. */
function withField(
  descriptor: ExportDescriptor,
  field: ExportDescriptor["resources"][number]["schema"]["fields"][number],
): ExportDescriptor {
  const [resource, ...others] = descriptor.resources;
  if (resource === undefined) return descriptor;
  const before = resource.schema.fields;
  const fields = before.some(({ name }) => name === field.name)
    ? before.map((each) => (each.name === field.name ? field : each))
    : [...before, field];
  return { ...descriptor, resources: [{ ...resource, schema: { ...resource.schema, fields } }, ...others] };
}
