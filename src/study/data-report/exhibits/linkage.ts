import type { FindingGroup, Findings } from "../../../base/finding.ts";
import type { LinkageCounts } from "../../../cases/linked-rows.ts";
import type { TableExhibit } from "../../../disclosure/exhibit.ts";
import { keyPart } from "../../../disclosure/key-part.ts";
import { countCell } from "../../sections/cells.ts";
import { atLeastHalf, sumOfFindings } from "../data-keys.ts";

const OUTCOMES = {
  matched: { label: "Matched", codes: [] },
  unmatched: { label: "No such case", codes: ["link-unmatched", "revision-of-unknown-knee"] },
  ambiguous: { label: "Several cases fit", codes: ["link-ambiguous"] },
  conflicting: { label: "Contradicts", codes: ["link-side-conflicts", "link-rows-conflict"] },
  withoutKey: { label: "Without a key", codes: ["link-key-missing"] },
} as const satisfies Readonly<Partial<Record<keyof LinkageCounts, object>>>;

/** How the rows of second tables met the cases. */
export function linkageExhibit(
  linkage: readonly LinkageCounts[],
  { groups }: Findings,
  knowsPersons: boolean,
): TableExhibit[] {
  if (linkage.length === 0) return [];
  const outcomes = Object.entries(OUTCOMES);
  const lines = linkage.map((link) => {
    const count = (what: string, units: number) =>
      atLeastHalf(`link/${keyPart(link.table)}/${what}`, units, knowsPersons);
    return {
      link,
      whole: count("rows", link.rows),
      parts: outcomes.map(([what]) => count(what, link[what as keyof typeof OUTCOMES])),
    };
  });
  const about = ({ table }: LinkageCounts, codes: readonly string[]): readonly FindingGroup[] =>
    groups.filter(({ field, code }) => field === table && codes.includes(code));
  return [
    {
      kind: "table",
      id: "linkage",
      title: "How the rows of second tables met the cases",
      columns: [
        { id: "table", label: "Table" },
        { id: "rows", label: "Rows", align: "end" },
        ...outcomes.map(([what, { label }]) => ({ id: what, label, align: "end" as const })),
      ],
      rows: lines.map(({ link, whole, parts }) => ({
        label: `${link.table} (${link.holds})`,
        cells: [whole, ...parts].map(countCell),
      })),
      notes: ["Only matched rows are used. There are as many cases after joining as before."],
      relations: lines.flatMap(({ link, whole, parts }) => [
        { total: whole, parts },
        ...outcomes.flatMap(([, { codes }], at) => {
          const part = parts[at];
          return part === undefined ? [] : sumOfFindings(part, about(link, codes), knowsPersons);
        }),
      ]),
    },
  ];
}
