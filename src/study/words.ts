import { count } from "../base/display.ts";
import { capital, numbered } from "../base/words.ts";
import type { StudyFacts } from "./facts.ts";

/** "a revision", "an event". */
export function article(word: string): string {
  return `${/^[aeiou]/i.test(word) ? "an" : "a"} ${word}`;
}

/** "a, b and c". */
export function listed(parts: readonly string[]): string {
  if (parts.length < 2) return parts.join("");
  return `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}`;
}

/** Words that an author typed, closed as a sentence. */
export function sentence(words: string): string {
  return /[.!?]$/.test(words) ? words : `${words}.`;
}

/** "0–3 years", "over 5 years": the declared period (from, to]. */
export function periodWords(fromYear: number, toYear: number | null): string {
  return toYear === null ? `over ${fromYear} years` : `${fromYear}–${toYear} years`;
}

/** "1 year", "10 years". */
export function yearWords(year: number): string {
  return numbered(year, "year");
}

/** The level of an interval: "95 %". */
export function levelWords(level: number): string {
  return `${Number((100 * level).toPrecision(6))} %`;
}

/** Row label of a risk at a year, used to find the row again after disclosure control. */
export function riskRowLabel(risk: "crude" | "net", year: number): string {
  return `${capital(risk)}, at ${yearWords(year)}`;
}

/** What an interval between groups is clustered on. */
export function clusterWords(facts: StudyFacts): string {
  const { by } = facts.clusters;
  return by === "none" ? `every ${facts.words.unit.one} taken as independent` : `clustered by ${by}`;
}

/**
 * How many surgeons that are, as far as the audience may know; surgeons are data subjects too.
 *
 * Never a number of patients: those of the groups without one another give the hidden patients of a flow.
 */
export function clusterNumberWords({ clusters: { by, clusters } }: StudyFacts, threshold: number): string {
  if (by !== "surgeon") return "";
  return clusters < threshold ? ", of whom there are few" : `, of whom there are ${count(clusters)}`;
}

/** Whom the groups consist of, for the sentence that says what was not adjusted for. */
export function whoTheyWere(facts: StudyFacts): string {
  return `the ${facts.words.person.many}${facts.descriptor.study.cementedKnees ? " and surgeons" : ""}`;
}

/** How long without contact counts as lost. */
export function lossWords({ lossDays }: StudyFacts): string {
  return lossDays === 365 ? "12 months" : `${lossDays} days`;
}
