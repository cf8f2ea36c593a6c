import type { FieldRole } from "../roles.ts";
import { REASON_NAMES } from "./reason-names.ts";
import { ROLE_NAMES } from "./role-names.ts";
import { STEP_NAMES } from "./step-names.ts";

const NAMES: Readonly<Partial<Record<FieldRole, readonly string[]>>> = {
  ...ROLE_NAMES,
  ...STEP_NAMES,
  ...REASON_NAMES,
};

/** Words that say little: a name may hold them beside the words of an entry. */
const FILLERS = new Set([
  "the",
  "of",
  "at",
  "in",
  "de",
  "du",
  "des",
  "der",
  "die",
  "das",
  "la",
  "le",
  "l",
  "d",
  "a",
  "am",
  "au",
  "bei",
  "code",
  "coded",
  "used",
  "yn",
  "years",
  "yrs",
  "ans",
  "jahre",
]);

/** The words of a column name: capitals inside it, marks and units in brackets part them; accents are dropped. */
export function nameWords(name: string): readonly string[] {
  return name
    .replace(/[([{][^)\]}]*[)\]}]/g, " ")
    .replace(/([a-z0-9])([A-Z])/g, "$1 $2")
    .replace(/([A-Z])([A-Z][a-z])/g, "$1 $2")
    .normalize("NFD")
    .replace(/\p{Diacritic}/gu, "")
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .filter((word) => word !== "");
}

/** How well a name says a role: 3 whole, 2 but for fillers, 1 among other words, 0 not. */
export function nameScore(name: string, role: FieldRole): number {
  const words = nameWords(name);
  const whole = words.join(" ");
  const bare = words.filter((word) => !FILLERS.has(word)).join(" ");
  let best = 0;
  for (const entry of NAMES[role] ?? []) {
    const parts = entry.split(" ");
    const bareEntry = parts.filter((word) => !FILLERS.has(word)).join(" ");
    if (entry === whole || entry.replaceAll(" ", "") === words.join("")) return 3;
    if (bare !== "" && bareEntry === bare) best = Math.max(best, 2);
    else if (parts.length > 1 && parts.every((part) => words.includes(part))) best = Math.max(best, 1);
  }
  return best;
}
