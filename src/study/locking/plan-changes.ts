import { canonicalJson } from "../../base/content-hash.ts";
import { isRecord } from "../../base/is-record.ts";
import { keyWords } from "./key-words.ts";

type Part = Readonly<Record<string, unknown>>;

/**
 * What changed from one plan to another, one sentence a place: "Years: 5, 10 → 5, 10, 15".
 *
 * Rules, outcomes and adjusters are told apart by their names, so that one put in between does not make those after it
 * look changed. Equal plans give an empty list.
 */
export function planChanges(first: unknown, second: unknown): readonly string[] {
  return changes(first, second, []).map((sentence) => sentence.charAt(0).toUpperCase() + sentence.slice(1));
}

function changes(one: unknown, two: unknown, place: readonly string[]): string[] {
  if (canonicalJson(one) === canonicalJson(two)) return [];
  if (isRecord(one) && isRecord(two)) return partChanges(one, two, place);
  if (isListOfParts(one) && isListOfParts(two)) return listChanges(one, two, place);
  return [`${placeWords(place)}: ${shown(one)} → ${shown(two)}`];
}

function partChanges(one: Part, two: Part, place: readonly string[]): string[] {
  const keys = [...new Set([...Object.keys(one), ...Object.keys(two)])];
  return keys.flatMap((key) => changes(one[key], two[key], [...place, keyWords(key)]));
}

function listChanges(one: readonly Part[], two: readonly Part[], place: readonly string[]): string[] {
  const named = [one, two].every(haveOwnNames);
  const nameOf = named ? ownName : canonicalJson;
  const [first, second] = [byName(one, nameOf), byName(two, nameOf)];
  const told = (part: Part) => (named ? `“${ownName(part)}” (${partWords(part)})` : partWords(part));
  const goneOrChanged = [...first].flatMap(([name, part]) => {
    const other = second.get(name);
    if (other === undefined) return [`${placeWords(place)}: ${told(part)} taken out`];
    return partChanges(part, other, [...place, `“${name}”`]);
  });
  const added = [...second].flatMap(([name, part]) =>
    first.has(name) ? [] : [`${placeWords(place)}: ${told(part)} added`],
  );
  const found = [
    ...goneOrChanged,
    ...added,
    ...orderChange([...first.keys()], [...second.keys()], place, named),
  ];
  // Entries without a name that are alike stand for one another: how many there are is told by the whole list.
  return found.length > 0 ? found : [`${placeWords(place)}: ${shown(one)} → ${shown(two)}`];
}

/** Only what both have can have changed places. */
function orderChange(
  first: readonly string[],
  second: readonly string[],
  place: readonly string[],
  named: boolean,
): string[] {
  const before = first.filter((name) => second.includes(name));
  const after = second.filter((name) => first.includes(name));
  if (before.every((name, at) => name === after[at])) return [];
  const words = placeWords(place);
  return named
    ? [`${words}, order: ${before.map(quoted).join(", ")} → ${after.map(quoted).join(", ")}`]
    : [`${words}: in another order`];
}

function byName(parts: readonly Part[], nameOf: (part: Part) => string): ReadonlyMap<string, Part> {
  return new Map(parts.map((part) => [nameOf(part), part]));
}

function haveOwnNames(parts: readonly Part[]): boolean {
  const names = parts.map(ownName);
  return names.every((name) => name !== "") && new Set(names).size === names.length;
}

/** What a reader calls an entry: its label, or the field it is about. */
function ownName({ label, field }: Part): string {
  return typeof label === "string" ? label : typeof field === "string" ? field : "";
}

function placeWords(place: readonly string[]): string {
  return place.length === 0 ? "plan" : place.join(", ");
}

function shown(value: unknown): string {
  if (value === undefined) return "not set";
  if (typeof value === "string") return quoted(value);
  if (value === true) return "yes";
  if (Array.isArray(value)) return value.length === 0 ? "none" : value.map(shown).join(", ");
  if (isRecord(value)) return `{ ${partWords(value)} }`;
  return JSON.stringify(value);
}

function partWords(part: Part): string {
  return Object.entries(part)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => `${keyWords(key)} ${shown(value)}`)
    .join("; ");
}

function quoted(text: string): string {
  return `“${text}”`;
}

function isListOfParts(value: unknown): value is readonly Part[] {
  return Array.isArray(value) && value.every(isRecord);
}
