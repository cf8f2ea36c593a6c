import type { Answer } from "../../../base/answer.ts";
import { notComputed } from "../../../base/answer.ts";
import { capital } from "../../../base/words.ts";
import type { Cell, Count, TableExhibit, TableRow } from "../../../disclosure/exhibit.ts";
import { FEWEST_EXPECTED, groupsExpectingTooFew } from "../../../survival/groups-expecting-too-few.ts";
import type { LogRankTest } from "../../../survival/results.ts";
import { countCell, eventsTogether, keys, noCell, sized } from "../../sections/cells.ts";
import type { PoolEstimates } from "../pool-estimate.ts";
import type { PoolFacts } from "../pool-facts.ts";
import { EVENT_KEY } from "../pool-section.ts";
import { independentWords } from "./pool-words.ts";

const BLANK: Cell = { kind: "text", text: "" };

/** One test over all years, as far as counts allow it: the plain log-rank, and the same within sources. */
export function poolLogRank({ logRank, sizes }: PoolEstimates, facts: PoolFacts): TableExhibit {
  const { plain, withinSources } = logRank;
  const together = eventsTogether(sizes, EVENT_KEY);
  const events = together.parts;
  // What is expected follows the sizes of the groups.
  const restsOn = [...events, ...sizes.map((size) => sized(keys.group(size.label), size))];
  const expected = facts.groups.map((label): Cell => {
    if (!plain.computed) return noCell(plain);
    const value = plain.groups.find(({ group }) => group === label)?.expected;
    return value === undefined ? BLANK : { kind: "statistic", value, restsOn };
  });
  const within = facts.strata.length > 1 ? " within the strata of the counts" : "";
  return {
    kind: "table",
    id: "log-rank",
    title: "One test over all years (log-rank, not clustered)",
    columns: [
      { id: "item", label: "Item" },
      ...facts.groups.map((label, at) => ({ id: `group-${at}`, label, align: "end" as const })),
      { id: "statistic", label: "Chi-square", align: "end" },
      { id: "p", label: "p", align: "end" },
    ],
    rows: [
      { label: `${capital(facts.words.event.many)} seen`, cells: [...events.map(countCell), BLANK, BLANK] },
      { label: `Expected if the groups were alike${within}`, cells: [...expected, BLANK, BLANK] },
      testRow(`Test over all sources${within}`, plain, facts, restsOn),
      ...(withinSources === undefined
        ? []
        : [testRow(`Test within each source${within && " and stratum"}`, withinSources, facts, restsOn)]),
    ],
    notes: [
      `${capital(independentWords(facts))}. Where a surgeon chooses the technique, such a p is too small.`,
      "Hypergeometric variance. One number over all years can hide effects that change: read it beside the rates by period.",
    ],
    relations: [together],
    settings: plain.computed ? { ...plain.settings } : { reason: plain.because },
  };
}

function testRow(
  label: string,
  test: Answer<LogRankTest>,
  facts: PoolFacts,
  restsOn: readonly Count[],
): TableRow {
  const blanks = facts.groups.map(() => BLANK);
  if (!test.computed) return { label, cells: [...blanks, noCell(test), noCell(test)] };
  const few = groupsExpectingTooFew(test);
  const p: Cell =
    few.length === 0
      ? { kind: "pValue", p: test.p, restsOn }
      : noCell(
          notComputed(
            "too-few-expected",
            `not given: fewer than ${FEWEST_EXPECTED} ${facts.words.event.many} expected in a group; compare the rates`,
          ),
        );
  return { label, cells: [...blanks, { kind: "statistic", value: test.chiSquare, restsOn }, p] };
}
