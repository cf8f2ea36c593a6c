import { curveFigure, flowFigure } from "../../src/figures/index.ts";
import type { ReportPage } from "../../src/report/index.ts";
import { cleared, sampleCurves } from "./sample-curves.ts";
import { sampleFlow } from "./sample-flow.ts";
import { sampleTable } from "./sample-table.ts";

export const STAMP = "INVENTED DATA";

/** The first time it is drawn, where the other curves come again. */
const netCurves = cleared({ ...sampleCurves, id: "net-risk", title: "The same, net", risk: "net" });

/** A page with every kind of block, as full as a real report. All numbers are made up. */
export const samplePage: ReportPage = {
  title: "Tourniquet and aseptic loosening after cemented knee replacement",
  subtitle:
    "Is loosening more frequent where a tourniquet was used throughout than where none was used? Study tourniquet-loosening, data to 2024-12-31.",
  stamp: STAMP,
  brief: [
    {
      kind: "answer",
      text: [
        "Out of 1000 knees, ",
        { strong: "29 with a tourniquet throughout and 21 without" },
        " had a revision for aseptic loosening by 10 years. The difference of 8 could lie anywhere between 2 fewer and 18 more.",
      ],
    },
    {
      kind: "list",
      items: [
        [
          { strong: "What is fairly certain: " },
          "in the first five years the groups differ by less than 6 per 1000 either way.",
        ],
        [
          { strong: "What is not: " },
          "whether the curves part after seven years; 291 revisions carry that part of the picture.",
        ],
        [
          { strong: "What would change the answer: " },
          "one unrecorded cause, tied to both the tourniquet and loosening by a ratio of 1.9, would be enough.",
        ],
      ],
    },
    { kind: "exhibit", exhibit: sampleCurves, figure: curveFigure(sampleCurves, { stamp: STAMP }) },
    {
      kind: "caution",
      text: "Groups were not assigned by chance: surgeons who operate without a tourniquet differ in other ways too.",
    },
    {
      kind: "caution",
      text: "Not advice for any one patient. Follow the maker's instructions for the cement in use.",
    },
    {
      kind: "choices",
      title: "What the committee decides",
      items: [
        "Nothing changes; look again when 150 more revisions have been seen.",
        "Record the reason whenever a tourniquet is used, starting on the first of next month.",
        "Ask for a comparison within surgeons before anything is decided.",
        "Something else:",
      ],
    },
  ],
  sections: [
    {
      kind: "section",
      id: "included",
      title: "Who was included",
      blocks: [
        {
          kind: "prose",
          text: "Every knee of the export is accounted for below. Whoever left did so for a reason stated before any result was seen.",
        },
        { kind: "exhibit", exhibit: sampleFlow, figure: flowFigure(sampleFlow, { stamp: STAMP }) },
        { kind: "exhibit", exhibit: sampleTable },
      ],
    },
    {
      kind: "section",
      id: "over-time",
      title: "The event over time",
      blocks: [
        {
          kind: "section",
          id: "crude",
          title: "As it happens to people",
          blocks: [
            { kind: "exhibit", exhibit: sampleCurves, figure: curveFigure(sampleCurves, { stamp: STAMP }) },
            { kind: "exhibit", exhibit: netCurves, figure: curveFigure(netCurves, { stamp: STAMP }) },
            {
              kind: "prose",
              text: "Crude risk is what happens to people, so it belongs to planning and to talking with patients.",
            },
          ],
        },
      ],
    },
    {
      kind: "section",
      id: "reproduce",
      title: "How to make this report again",
      blocks: [
        {
          kind: "facts",
          items: [
            { term: "Made with", text: "Mantle 0.1.0" },
            { term: "Data cut", text: "2024-12-31" },
            { term: "Command", text: "npx mantle report notebooks/tourniquet-loosening.ts" },
            {
              term: "Export, SHA-256",
              text: "9f86d081884c7d659a2feaa0c55ad015a3bf4f1b2b0b822cd15d6c15b0f00a08",
            },
            {
              term: "Plan, SHA-256",
              text: "60303ae22b998861bce3b28f33eec1be758a213c86c93c076dbe9f558c11c752",
            },
          ],
        },
        {
          kind: "folded",
          title: "The notebook",
          text: 'import { defineStudy } from "mantle-outcomes";\n\nexport default defineStudy({\n  id: "tourniquet-loosening",\n});\n',
        },
      ],
    },
  ],
  footer: [
    "Mantle 0.1.0. Made for audit and research; not a medical device.",
    "Invented data: no row describes a person.",
  ],
};
