import type { ExportDescriptor } from "./descriptor.ts";

/** What a second table may hold, and which of its fields are brought to the cases. */
export const LINKED_ROLES = {
  revisions: ["revisionDate", "revisionReason", "revisionSide", "loosenedComponent"],
  deaths: ["deathDate"],
  radiographs: ["radiographDate"],
} as const satisfies Readonly<Record<string, readonly string[]>>;
export type LinkedKind = keyof typeof LINKED_ROLES;
export const LINKED_KINDS = ["revisions", "deaths", "radiographs"] as const satisfies readonly LinkedKind[];

type Resource = ExportDescriptor["resources"][number];
type Report = (path: readonly PropertyKey[], text: string) => void;

/** The second tables of an export: those that say what they hold. */
export function linkedResources({ resources }: ExportDescriptor): readonly Resource[] {
  return resources.slice(1).filter(({ holds }) => holds !== undefined);
}

/** How a second table must be declared: one foreign key to the cases, in the way of the open standard. */
export function checkLinks(descriptor: ExportDescriptor, report: Report): void {
  const [cases] = descriptor.resources;
  descriptor.resources.forEach((resource, index) => {
    if (index === 0 || resource.holds === undefined || cases === undefined) return;
    const at = (...keys: PropertyKey[]) => ["resources", index, ...keys];
    const keys = resource.schema.foreignKeys ?? [];
    const [key] = keys;
    if (key === undefined || keys.length > 1) {
      report(at("schema", "foreignKeys"), "must hold one key that says which fields name a row of the cases");
      return;
    }
    if (key.reference.resource !== cases.name) {
      report(at("schema", "foreignKeys"), `must refer to the resource "${cases.name}"`);
    }
    if (key.fields.length !== key.reference.fields.length) {
      report(at("schema", "foreignKeys"), "must name as many fields here as in the cases");
    }
    const unknown = [
      ...key.fields.filter((name) => !resource.schema.fields.some((field) => field.name === name)),
      ...key.reference.fields.filter((name) => !cases.schema.fields.some((field) => field.name === name)),
    ];
    for (const name of unknown) report(at("schema", "foreignKeys"), `there is no field "${name}"`);
    const [main] = LINKED_ROLES[resource.holds];
    if (main !== undefined && !resource.schema.fields.some(({ role }) => role === main)) {
      report(at("schema", "fields"), `a table of ${resource.holds} needs a field with the role "${main}"`);
    }
  });
}
