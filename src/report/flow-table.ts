import { capital } from "../base/words.ts";
import type { Cleared, ClearedCell, ClearedFlow, ClearedTable } from "../disclosure/cleared.ts";
import { mapCleared } from "../disclosure/cleared-value.ts";

type Row = ClearedTable["rows"][number];
type Part = ClearedFlow["groups"][number];

/** The flow as a table: each step, whoever left after it, and the groups. */
export function flowTable(exhibit: Cleared<ClearedFlow>): Cleared<ClearedTable> {
  const rows: Row[] = exhibit.boxes.flatMap((box) => [
    partRow(box, box.label, 0),
    ...box.removed.map((removed) => partRow(removed, `taken out: ${removed.label}`, 1)),
  ]);
  const groups: Row[] = exhibit.groups.map((group) => partRow(group, `group: ${group.label}`, 1));
  return mapCleared(exhibit, () => ({
    kind: "table",
    id: `${exhibit.id}-steps`,
    title: exhibit.title,
    columns: [
      { id: "step", label: "Step", align: "start" },
      { id: "units", label: capital(exhibit.unitWord), align: "end" },
      { id: "persons", label: capital(exhibit.personWord), align: "end" },
    ],
    rows: [...rows, ...groups],
    notes: exhibit.notes,
    settings: {},
  }));
}

const notCounted: ClearedCell = { text: "–", values: [], hidden: false };

function partRow(part: Part, label: string, indent: number): Row {
  return { label, heading: false, indent, cells: [part.units, part.persons ?? notCounted] };
}
