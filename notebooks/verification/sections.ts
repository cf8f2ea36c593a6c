import type { Block } from "../../src/report/block.ts";
import { exhibitBlock } from "../../src/study/making/exhibit-block.ts";
import type { Figures } from "../../src/study/making/section.ts";
import type { ClearedView } from "../../src/study/making/view.ts";
import { TOTAL } from "./tables.ts";

type Section = Block & { readonly kind: "section" };

/** Tables that have a place of their own; every other one is a method. */
const SPECIAL = ["summary", "print-differences", "clustered-level", "cox-coverage"];

/** The page: what was found, how to read it, then one section a method. */
export function verificationSections(view: ClearedView, figures: Figures): readonly Section[] {
  const methods = view.all.exhibits.filter(({ id }) => !SPECIAL.includes(id));
  return [
    section("found", "What was found", found(view, figures)),
    section("reading", "How to read the tables", [{ kind: "list", items: READING }]),
    ...methods.map(({ id, title }) => section(`method-${id}`, title, exhibitBlock(view.table(id), figures))),
    ...simulation(view, figures),
  ];
}

function found(view: ClearedView, figures: Figures): readonly Block[] {
  const total = (column: string) => view.cell("summary", TOTAL, column)?.text ?? "";
  const differing = view.table("print-differences")?.rows.length ?? 0;
  return [
    {
      kind: "answer",
      text: `${total("agree")} of ${total("values")} values agree with their reference within its tolerance; the largest relative difference is ${total("largest")}. ${total("printed-agree")} of ${total("printed")} printed figures are met.`,
    },
    ...exhibitBlock(view.table("summary"), figures),
    ...(differing === 0
      ? []
      : [
          {
            kind: "caution" as const,
            text: "These printed figures are met by neither the reference nor the package. They were recalled, not read, and no number of the package was changed to meet them.",
          },
          ...exhibitBlock(view.table("print-differences"), figures),
        ]),
  ];
}

function simulation(view: ClearedView, figures: Figures): readonly Section[] {
  const asked = [
    ["clustered-level", "level", "Does the clustered test keep its level?"],
    ["cox-coverage", "coverage", "Do intervals of hazard ratios hold what was planted?"],
  ] as const;
  return asked.flatMap(([table, id, title]) => {
    const found = view.table(table);
    return found === undefined ? [] : [section(id, title, exhibitBlock(found, figures))];
  });
}

function section(id: string, title: string, blocks: readonly Block[]): Section {
  return { kind: "section", id, title, blocks };
}

const READING = [
  "Published: as printed in the source named in the heading. “From memory” means that figures, table and page numbers were recalled and not looked up; check them before quoting.",
  "Reference: computed outside the package with the program named in the heading, never from memory. Scripts and values are kept in tests/reference; npm run test:reference computes them again where R is installed.",
  "Mantle: computed by this package when the report was made. Ten significant figures are shown; the difference is taken from all of them.",
  "Allowed: the tolerance set for each reference before it was compared. “Exact” allows no difference; “absolute” is a difference of the numbers themselves, for values that may be 0.",
  "“Agrees; print differs”: reference and package agree with each other, and the reason why print does not stands in the first section.",
  "Verdict: the outcome of that comparison. No verdict is typed.",
  "Agreement with one other program does not prove both right: the tests also compare with second implementations written plainly, with closed forms and with identities.",
];
