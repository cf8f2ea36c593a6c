import type { Cleared, ClearedTable } from "../../src/disclosure/cleared.ts";
import { cleared, countCell, hiddenCell, numberCell, textCell } from "./sample-curves.ts";

export const sampleTable: Cleared<ClearedTable> = cleared({
  kind: "table",
  id: "covariates",
  title: "Who was in each group",
  columns: [
    { id: "what", label: "", align: "start" },
    { id: "throughout", label: "Tourniquet throughout", align: "end" },
    { id: "none", label: "No tourniquet", align: "end" },
    { id: "cementing", label: "For cementing only", align: "end" },
    { id: "difference", label: "Largest standardised difference", align: "end" },
    { id: "missing", label: "Missing", align: "end" },
  ],
  rows: [
    {
      label: "Knees",
      heading: false,
      indent: 0,
      cells: [countCell(12840), countCell(4102), countCell(1210), textCell("–"), countCell(0)],
    },
    {
      label: "Age, years: mean (standard deviation)",
      heading: false,
      indent: 0,
      cells: [
        numberCell("69.2 (9.4)", 69.2, 9.4),
        numberCell("68.0 (9.9)", 68, 9.9),
        numberCell("67.1 (10.2)", 67.1, 10.2),
        numberCell("0.21", 0.21),
        countCell(0),
      ],
    },
    {
      label: "Body mass index, kg/m²: median (quarter to quarter)",
      heading: false,
      indent: 0,
      cells: [
        numberCell("29.4 (26.1 to 33.0)", 29.4, 26.1, 33),
        numberCell("30.2 (26.9 to 33.8)", 30.2, 26.9, 33.8),
        numberCell("30.0 (26.8 to 33.9)", 30, 26.8, 33.9),
        numberCell("−0.12", -0.12),
        countCell(418),
      ],
    },
    { label: "Diagnosis", heading: true, indent: 0, cells: [] },
    {
      label: "osteoarthritis",
      heading: false,
      indent: 1,
      cells: [
        numberCell("12 301 (95.8 %)", 12301, 95.8),
        numberCell("3940 (96.1 %)", 3940, 96.1),
        numberCell("1164 (96.2 %)", 1164, 96.2),
        numberCell("0.02", 0.02),
        countCell(0),
      ],
    },
    {
      label: "after infection of the native joint",
      heading: false,
      indent: 1,
      cells: [countCell(9), hiddenCell, countCell(0), textCell("not defined"), countCell(0)],
    },
  ],
  notes: [
    "Standardised difference: difference in means over the root of the mean of the two variances; above 0.10 deserves a look.",
    "“under 5”: the count is hidden so that nobody can be recognised.",
  ],
  settings: { denominator: "unweighted" },
});
