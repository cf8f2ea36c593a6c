import { numbered } from "../../../base/words.ts";
import type { Block } from "../../../report/block.ts";
import { disclosureBlocks } from "../../sections/disclosure-blocks.ts";
import { levelWords, listed } from "../../words.ts";
import type { PoolFacts } from "../pool-facts.ts";
import type { PoolSection } from "../pool-section.ts";
import { shortHash } from "../short-hash.ts";

/** How the numbers were made, what was hidden, and how to make them again. */
export const poolMethods: PoolSection = {
  id: "methods",
  title: () => "Methods and how to reproduce this report",
  exhibits: () => [],
  blocks: (view, facts) => [
    { kind: "list", items: methodSentences(facts) },
    ...disclosureBlocks(view, personWords(facts)),
    {
      kind: "facts",
      items: [
        { term: "Command", text: command(facts, view.all.audience) },
        { term: "Mantle", text: `${facts.mantleVersion}, lock file SHA-256 ${shortHash(facts.lockHash)}` },
        { term: "Hashes", text: "Their first 12 digits stand here, all 64 in results.json." },
        { term: "Audience", text: view.all.audience },
        {
          term: "Kind of data",
          text: facts.stamp ?? "Counts without identifiers; a row with one event is one person's.",
        },
      ],
    },
  ],
};

/** What everybody must know before using the page. */
export function poolCautions(facts: PoolFacts): Block {
  const { unit } = facts.words;
  const captured = facts.descriptors.every(({ revisionCapture }) => revisionCapture === "national");
  const meanings = new Set(facts.descriptors.map(({ revisionMeans }) => revisionMeans ?? ""));
  const cuts = new Set(facts.descriptors.map(({ dataCut }) => dataCut ?? ""));
  return {
    kind: "list",
    items: [
      "The groups were not assigned by chance. Differences may come from the patients, the people who treated them, the equipment or the time.",
      `A row of counts with one event is one ${unit.one}: the counts themselves are analyst data and are shared under the same agreement as rows.`,
      exactness(facts),
      `A person treated in two sources cannot be linked and counts as two.`,
      ...(captured
        ? []
        : [`Some sources see ${facts.words.event.many} in their own unit only; others may be missing.`]),
      ...(meanings.size === 1
        ? []
        : [`The sources do not say the same about what counts as ${facts.cause}; see “Who sent what”.`]),
      ...(cuts.size === 1 ? [] : ["The sources were not counted on the same data cut; see “Who sent what”."]),
      "“No difference found” is not “no difference”. This is not advice for any one patient, not for ranking anyone and not for sanctions.",
    ],
  };
}

function exactness({ timeUnit, words }: PoolFacts): string {
  if (timeUnit.word === "day") {
    return `The counts are by day: every number here is the one that the rows, taken as independent, would give. Counts by month are safer to share.`;
  }
  return `The counts are by ${timeUnit.word}, which is safer to share than by day and not exact: within a ${timeUnit.word} ${words.event.many} come before departures, and time under observation is known to the ${timeUnit.word} only.`;
}

function methodSentences(facts: PoolFacts): string[] {
  const { unit, event } = facts.words;
  const word = facts.timeUnit.word;
  const { periods, competing } = facts;
  return [
    `Unit of analysis: the ${unit.one}. Counts of each source were checked to be those of whole follow-up, then added ${word} by ${word}. Only the first ${event.one} counts.`,
    `At risk on (entry, exit]. On one ${word}: entries last, ${event.many} first, departures after them.${facts.delayedEntry ? " Some enter late; they count from after their entry." : ""}`,
    `Outcome: ${facts.cause}. ${competing.length === 0 ? "No competing outcome was counted." : `Competing outcomes: ${listed(competing)}.`}`,
    "Crude risk: Aalen–Johansen cumulative incidence, Greenwood-type variance, interval on the scale log(−log(1 − F)). Net risk: one minus Kaplan–Meier, Greenwood variance, interval on the log-minus-log scale; until the first event the upper limit is Clopper–Pearson on the number at risk.",
    `Curves stop on the last ${word} on which at least 40 and at least a tenth of the group's largest number are at risk; nothing is printed beyond it.`,
    `Rates: exact Poisson ${levelWords(facts.level)} intervals. Periods are (a, b]: ${periods.length === 0 ? "one" : `cut at ${numbered(listed(periods.map(String)), "year")}`}; a period with under 10 ${event.many} in all is joined with the next, without a look at the groups.`,
  ];
}

function personWords({ mostPerPerson, words }: PoolFacts): string {
  if (mostPerPerson === 1) return "";
  return ` Counts do not say whose a ${words.unit.one} is, so the numbers in the tables are taken to belong to the fewest people possible (${mostPerPerson} ${words.unit.many} each), and the threshold applies to these.`;
}

/** Paths are left out: the same counts give the same bytes wherever they lie. */
function command({ years, periods }: PoolFacts, audience: string): string {
  return [
    "npx mantle pool COUNTS… --out FOLDER",
    `--years ${years.join(",")}`,
    `--periods ${periods.length === 0 ? "none" : periods.join(",")}`,
    `--audience ${audience}`,
  ].join(" ");
}
