import { count } from "../base/display.ts";
import type { StudyFacts } from "./facts.ts";
import { hasFewClusters } from "./few-clusters.ts";

/** First letter in capitals. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** "a revision", "an event". */
export function article(word: string): string {
  return `${/^[aeiou]/i.test(word) ? "an" : "a"} ${word}`;
}

/** "a, b and c". */
export function listed(parts: readonly string[]): string {
  if (parts.length < 2) return parts.join("");
  return `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}`;
}

/** "0–3 years", "over 5 years": the declared period (from, to]. */
export function periodWords(fromYear: number, toYear: number | null): string {
  return toYear === null ? `over ${fromYear} years` : `${fromYear}–${toYear} years`;
}

/** "1 year", "10 years". */
export function yearWords(year: number): string {
  return year === 1 ? "1 year" : `${year} years`;
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
  const { by, clusters } = facts.clusters;
  if (by === "none") return `every ${facts.words.unit.one} taken as independent`;
  return `clustered by ${by} (${count(clusters)} ${by}s${hasFewClusters(facts) ? ", few: t distribution and a wider variance" : ""})`;
}

/** Whom the groups consist of, for the sentence that says what was not adjusted for. */
export function whoTheyWere(facts: StudyFacts): string {
  return `the ${facts.words.person.many}${facts.descriptor.study.cementedKnees ? " and surgeons" : ""}`;
}

/** How long without contact counts as lost. */
export function lossWords({ lossDays }: StudyFacts): string {
  return lossDays === 365 ? "12 months" : `${lossDays} days`;
}
