import type { TableExhibit } from "../../../disclosure/exhibit.ts";
import { countCell, shareCell, sized } from "../../sections/cells.ts";
import { levelWords } from "../../words.ts";
import { TOGETHER } from "../all-steps.ts";
import type { AdherenceRun } from "../run-adherence.ts";
import { boundsCell, intervalCell } from "./share-cells.ts";
import { EVERYBODY } from "./step-counts.ts";

type Run = Omit<AdherenceRun, "exhibits">;

/** In how many units every step that applies was done. */
export function togetherExhibit({ together, looked, level }: Run): TableExhibit[] {
  if (together === undefined) return [];
  const { found, labels } = together;
  const all = sized(`adherence/${EVERYBODY}/all`, looked);
  const parts = found.counts.map((count) => sized(`adherence/together/${count.kind}`, count));
  const [done, missed] = parts;
  const complete = sized("adherence/together/complete", found.complete);
  const known = done === undefined || missed === undefined ? [] : [done, missed];
  return [
    {
      kind: "table",
      id: "together",
      title: "All steps together",
      columns: [
        { id: "what", label: "What the records of one operation say" },
        { id: "count", label: "Number (share)", align: "end" },
      ],
      rows: [
        ...found.counts.map(({ kind }, at) => ({
          label: TOGETHER[kind],
          cells: [shareCell(parts[at] ?? all, all)],
        })),
        { label: "complete records", cells: [countCell(complete)] },
        {
          label: `every step done, of complete records (${levelWords(level)} interval)`,
          cells: [intervalCell(found.share, known)],
        },
        {
          label: "every step done, whatever was not written down",
          cells: [boundsCell(found.bounds, parts)],
        },
      ],
      notes: [
        `Steps: ${labels.join("; ")}. Steps that do not apply to an operation are left out of it.`,
        "Complete: every step that applies was written down as done or not done. The number is one of the unit's practice; it is set beside no outcome.",
      ],
      relations: [
        { total: all, parts },
        { total: complete, parts: known },
      ],
    },
  ];
}
