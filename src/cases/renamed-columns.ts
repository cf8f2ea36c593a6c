import { nearestWord } from "../base/nearest-word.ts";
import type { ExportField } from "./descriptor.ts";
import { nameScore } from "./proposal/name-score.ts";
import { isFieldRole } from "./roles.ts";

/** From so much on, a name says a role, but for words that say little. */
const SAYS_ROLE = 2;

/**
 * The column of a file under which a field that the file lacks most likely stands now, by field name.
 *
 * A column is named that is spelt nearly alike, or else the only one whose name says the field's role; each once. No other name of a
 * header is ever told: in a file without one the first row stands there.
 *
 * @param others names in the header that the dictionary does not describe.
 */
export function renamedColumns(
  lacking: readonly ExportField[],
  others: readonly string[],
): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const free = () => others.filter((name) => ![...found.values()].includes(name));
  for (const { name } of lacking) {
    const nearest = nearestWord(name, free());
    if (nearest !== undefined) found.set(name, nearest);
  }
  for (const { name, role } of lacking) {
    if (found.has(name) || role === undefined || !isFieldRole(role)) continue;
    const saying = free().filter((other) => nameScore(other, role) >= SAYS_ROLE);
    if (saying.length === 1 && saying[0] !== undefined) found.set(name, saying[0]);
  }
  return found;
}
