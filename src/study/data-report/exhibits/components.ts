import type { LoosenedComponents } from "../../../cohort/loosened-components.ts";
import type { TableExhibit } from "../../../disclosure/exhibit.ts";
import { keyPart } from "../../../disclosure/key-part.ts";
import { countCell, shareCell } from "../../sections/cells.ts";
import { atLeastHalf } from "../data-keys.ts";

/** Which component was loose, where recorded. */
export function componentsExhibit(
  { revisions, components, notRecorded }: LoosenedComponents,
  knowsPersons: boolean,
): TableExhibit[] {
  if (components.length === 0) return [];
  const whole = atLeastHalf("loosening", revisions, knowsPersons);
  const parts = components.map(({ code, label, revisions: units }) => ({
    label,
    count: atLeastHalf(`loosening/${keyPart(code)}`, units, knowsPersons),
  }));
  const unknown = atLeastHalf("loosening/not recorded", notRecorded, knowsPersons);
  return [
    {
      kind: "table",
      id: "components",
      title: "Which component was loose",
      columns: [
        { id: "component", label: "Component" },
        { id: "number", label: "Revisions for loosening", align: "end" },
      ],
      rows: [
        ...parts.map(({ label, count }) => ({ label, cells: [shareCell(count, whole)] })),
        { label: "not recorded", cells: [shareCell(unknown, whole)] },
        { label: "All with loosening ticked", cells: [countCell(whole)] },
      ],
      relations: [{ total: whole, parts: [...parts.map(({ count }) => count), unknown] }],
    },
  ];
}
