import type { ClearedCell } from "../../disclosure/cleared.ts";
import { AS_BEFORE_MARK } from "../../disclosure/held/mark.ts";
import type { Prose } from "../../report/block.ts";
import type { StudyFacts } from "../facts.ts";
import { levelWords, yearWords } from "../words.ts";

/** Two groups at one year in a sentence a committee can read aloud, from a cleared difference per 1000. */
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
  const limits = `${levelWords(facts.level)} interval`;
  const before = cell?.asBefore ? `; ${AS_BEFORE_MARK} as in the report before` : "";
  if (cell?.coarse) {
    // A step can be more than the difference that matters: a number in the middle would say more than is known.
    const range = `between ${direction(low, 0)} and ${direction(high, 0)}`;
    return [
      when,
      { strong: `${range} per 1000 ${facts.words.unit.many}` },
      ` with “${first}” than with “${second}” (a range that holds the ${limits}${allowingFor(facts)}; widened to steps of ${cell.coarse}, to keep a small number hidden${before}).`,
    ];
  }
  return [
    when,
    { strong: `${direction(difference, 1)} per 1000 ${facts.words.unit.many}` },
    ` with “${first}” than with “${second}” (${limits}: ${direction(low, 1)} to ${direction(high, 1)}${allowingFor(facts)}${before}).`,
  ];
}

/** What stands in place of a number that is not there. */
export function whyMissing(cell: ClearedCell | undefined): string {
  return cell === undefined || cell.text === "" ? "not computed" : cell.text;
}

/** What the interval is clustered on, in words that need no glossary and no number. */
function allowingFor(facts: StudyFacts): string {
  const { by } = facts.clusters;
  if (by === "surgeon") return ", allowing for the surgeons' own habits";
  if (by === "patient") return `, allowing for ${facts.words.person.many} with two ${facts.words.unit.many}`;
  return "";
}

function direction(perThousand: number, decimals: number): string {
  const size = Math.abs(perThousand).toFixed(decimals);
  if (Number(size) === 0) return "no difference";
  return `${size} ${perThousand < 0 ? "fewer" : "more"}`;
}
