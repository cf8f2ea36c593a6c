import type { Cleared, ClearedFlow } from "../../src/disclosure/cleared.ts";
import { cleared, countCell, hiddenCell } from "./sample-curves.ts";

export const sampleFlow: Cleared<ClearedFlow> = cleared({
  kind: "flow",
  id: "flow",
  title: "From the export to the groups compared",
  unitWord: "knees",
  personWord: "patients",
  boxes: [
    {
      label: "in the export",
      units: countCell(20114),
      persons: countCell(17902),
      removed: [{ label: "not: cemented fixation", units: countCell(1206), persons: countCell(1104) }],
    },
    {
      label: "cemented fixation",
      units: countCell(18908),
      persons: countCell(16901),
      removed: [
        {
          label: "not: osteoarthritis or inflammatory arthritis as the reason for operation",
          units: countCell(402),
          persons: countCell(391),
        },
      ],
    },
    {
      label: "osteoarthritis or inflammatory arthritis",
      units: countCell(18506),
      persons: countCell(16560),
      removed: [
        { label: "tourniquet: not recorded", units: countCell(351), persons: countCell(340) },
        { label: "tourniquet: not applicable", units: hiddenCell },
      ],
    },
    { label: "compared", units: countCell(18152), removed: [] },
  ],
  groups: [
    { label: "tourniquet throughout", units: countCell(12840), persons: countCell(11502) },
    { label: "no tourniquet", units: countCell(4102), persons: countCell(3720) },
    { label: "tourniquet for cementing only", units: countCell(1210), persons: countCell(1150) },
  ],
  notes: ["A patient with two knees can stand in several places; knees cannot."],
});
