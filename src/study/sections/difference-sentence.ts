import type { ClearedCell } from "../../disclosure/cleared.ts";
import type { Prose } from "../../report/block.ts";
import type { StudyFacts } from "../facts.ts";
import { levelWords, yearWords } from "../words.ts";

/** Two groups at one year in a sentence a committee can read aloud, from a cleared difference per 1,000. */
export function differenceSentence(
  cell: ClearedCell | undefined,
  facts: StudyFacts,
  [first, second]: readonly [string, string],
  year: number,
): Prose {
  const when = `At ${yearWords(year)}: `;
  const [difference, low, high] = cell?.values ?? [];
  if (difference === undefined || low === undefined || high === undefined) {
    return `${when}no difference can be given (${whyMissing(cell)}).`;
  }
  const decimals = cell?.coarse ? 0 : 1;
  const about = cell?.coarse ? "about " : "";
  const limits = `${levelWords(facts.level)} interval: ${direction(low, decimals)} to ${direction(high, decimals)}, ${allowingFor(facts)}`;
  if (isNothing(difference, decimals)) {
    return [
      when,
      { strong: "hardly any difference" },
      ` between “${first}” and “${second}” (per 1,000 ${facts.words.unit.many}; ${limits}).`,
    ];
  }
  return [
    when,
    { strong: `${about}${direction(difference, decimals)} per 1,000 ${facts.words.unit.many}` },
    ` with “${first}” than with “${second}” (${limits}).`,
  ];
}

/** What stands in place of a number that is not there. */
export function whyMissing(cell: ClearedCell | undefined): string {
  return cell === undefined || cell.text === "" ? "not computed" : cell.text;
}

/** What the interval is clustered on, in words that need no glossary. */
function allowingFor(facts: StudyFacts): string {
  const { by, clusters } = facts.clusters;
  if (by === "surgeon") return `allowing for the habits of the ${clusters} surgeons`;
  if (by === "patient") return `allowing for ${facts.words.person.many} with two ${facts.words.unit.many}`;
  return `each ${facts.words.unit.one} counted as independent`;
}

function direction(perThousand: number, decimals: number): string {
  if (isNothing(perThousand, decimals)) return "no difference";
  return `${Math.abs(perThousand).toFixed(decimals)} ${perThousand < 0 ? "fewer" : "more"}`;
}

function isNothing(perThousand: number, decimals: number): boolean {
  return Number(perThousand.toFixed(decimals)) === 0;
}
