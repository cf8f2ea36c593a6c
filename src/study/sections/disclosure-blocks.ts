import type { DisclosureAct } from "../../disclosure/cleared.ts";
import { cellsHidden } from "../../disclosure/cleared-cells.ts";
import { ACTS } from "../../disclosure/clearing.ts";
import type { Block } from "../../report/block.ts";
import { heldSentence } from "../held-reports/held-words.ts";
import type { ClearedView } from "../making/view.ts";

/** What was hidden from this reader and how much of the report that is, what is not promised, and the log. */
export function disclosureBlocks({ all }: ClearedView, more = ""): Block[] {
  if (all.threshold === 0) {
    return [
      {
        kind: "prose",
        text: "Disclosure control: none. This copy is for analysts. It holds small counts and must be kept as the rows are.",
      },
    ];
  }
  const { cells, hidden } = cellsHidden(all);
  const share = cells === 0 ? "" : ` (${((100 * hidden) / cells).toFixed(1)} %)`;
  return [
    {
      kind: "prose",
      text: `Disclosure control: counts from 1 to below ${all.threshold} are hidden, and so is what would give them back by subtraction or division, within this report (a stated heuristic).${more} Hidden: ${hidden} of ${cells} numbers${share}. Other attacks are not excluded. ${heldSentence(all)}`,
    },
    ...(all.log.length === 0
      ? []
      : [{ kind: "folded" as const, title: "What was hidden, merged or rounded", text: logText(all.log) }]),
  ];
}

/** A line for each exhibit by its title; what only analysts get comes together at the end. */
function logText(log: readonly DisclosureAct[]): string {
  const lines = new Map<string, string[]>();
  const kept: string[] = [];
  for (const { title, act, cells } of log) {
    if (act === ACTS.kept) kept.push(title);
    else lines.set(title, [...(lines.get(title) ?? []), `${act} (${cells})`]);
  }
  return [
    ...[...lines].map(([title, acts]) => `${title}: ${acts.join(", ")}`),
    ...(kept.length === 0 ? [] : [`${ACTS.kept}: ${kept.join("; ")}`]),
  ].join("\n");
}
