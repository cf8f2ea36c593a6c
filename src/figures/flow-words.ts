import type { Cleared, ClearedCell, ClearedFlow } from "../disclosure/cleared.ts";

/** One box of the flow: those who were there, those taken out, or one of the groups. */
export interface FlowPart {
  readonly label: string;
  readonly units: ClearedCell;
  readonly persons?: ClearedCell;
}

/** "8012 knees in 7240 patients". */
export function numbersLine(part: FlowPart, exhibit: Cleared<ClearedFlow>): string {
  const units = `${part.units.text} ${exhibit.unitWord}`;
  return part.persons === undefined ? units : `${units} in ${part.persons.text} ${exhibit.personWord}`;
}

/** The text alternative: the path from the top box to the groups, in sentences. */
export function flowDescription(exhibit: Cleared<ClearedFlow>): string {
  const words = (part: FlowPart) => `${part.label}, ${numbersLine(part, exhibit)}`;
  const steps = exhibit.boxes.flatMap((box) => [
    `${words(box)}.`,
    ...box.removed.map((removed) => `Taken out: ${words(removed)}.`),
  ]);
  const groups = exhibit.groups.length === 0 ? [] : [`Groups: ${exhibit.groups.map(words).join("; ")}.`];
  const all = [...steps, ...groups];
  return all.length === 0 ? `No ${exhibit.unitWord} came in.` : all.join(" ");
}
