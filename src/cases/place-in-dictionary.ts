/**
 * Where something stands in a dictionary, in the names a person gave: `field "side", role`; `field "side", category
 * "left", label`; `study.dataCut`. What has no name yet is told by its position: `resources[0].schema.fields[3].name`.
 */
export function placeInDictionary(path: readonly PropertyKey[], dictionary: unknown): string {
  const [table, at, schema, fields, , ...rest] = path;
  const isField = table === "resources" && schema === "schema" && fields === "fields";
  const named = isField ? nameAt(dictionary, path.slice(0, 5), "name") : undefined;
  if (named === undefined) return positionText(path);
  const of = at === 0 ? "" : ` of the table "${nameAt(dictionary, path.slice(0, 2), "name") ?? String(at)}"`;
  return [`field "${named}"${of}`, ...keysOf(rest, path, dictionary)].join(", ");
}

/** resources[0].schema.fields[3].role */
export function positionText(path: readonly PropertyKey[]): string {
  const text = path.map((part) => (typeof part === "number" ? `[${part}]` : `.${String(part)}`)).join("");
  return text === "" ? "descriptor" : text.replace(/^\./, "");
}

function keysOf(rest: readonly PropertyKey[], path: readonly PropertyKey[], dictionary: unknown): string[] {
  const [list, item, ...keys] = rest;
  const value =
    list === "categories" ? nameAt(dictionary, path.slice(0, path.length - keys.length), "value") : undefined;
  if (value !== undefined) return [`category "${value}"`, ...(keys.length > 0 ? [positionText(keys)] : [])];
  return item === undefined && list === undefined ? [] : [positionText(rest)];
}

/** The name of what lies at a path, where it has one. */
function nameAt(dictionary: unknown, path: readonly PropertyKey[], key: string): string | undefined {
  const found = [...path, key].reduce<unknown>(
    (value, part) =>
      typeof value === "object" && value !== null ? (value as Record<PropertyKey, unknown>)[part] : undefined,
    dictionary,
  );
  return typeof found === "string" && found !== "" ? found : undefined;
}
