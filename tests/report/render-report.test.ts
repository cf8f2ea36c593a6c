import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { curveFigure, flowFigure } from "../../src/figures/index.ts";
import { type Block, type ReportPage, renderReport } from "../../src/report/index.ts";
import { PAGE_SCRIPT } from "../../src/report/page-script.ts";
import { idsOf, referencesOf } from "./figure-checks.ts";
import { faultsOf, HOSTILE } from "./hostile.ts";
import { cleared, numberCell, sampleCurves } from "./sample-curves.ts";
import { sampleFlow } from "./sample-flow.ts";
import { samplePage } from "./sample-page.ts";
import { sampleTable } from "./sample-table.ts";

const EMPTY: ReportPage = { title: "Title", subtitle: "Subtitle", brief: [], sections: [], footer: [] };
const withBlocks = (...blocks: Block[]): ReportPage => ({
  ...EMPTY,
  sections: [{ kind: "section", id: "s", title: "Section", blocks }],
});

describe("faultsOf()", () => {
  it("finds what must not get through: the check can fail", () => {
    expect(faultsOf('<p onload="x">')).toHaveLength(1);
    expect(faultsOf("<p>a <script>b</p>")).toHaveLength(1);
    expect(faultsOf("<p>1 < 2</p>")).toHaveLength(1);
    expect(faultsOf("<p>\u0007</p>")).toHaveLength(1);
    expect(faultsOf('<p class="a">1 &lt; 2</p>')).toEqual([]);
  });
});

describe("renderReport()", () => {
  it("writes the same bytes twice, and after another page", () => {
    const first = renderReport(samplePage);
    renderReport(withBlocks({ kind: "exhibit", exhibit: sampleTable }));
    expect(renderReport(samplePage) === first).toBe(true);
  });

  it("holds no script but its own, fetches nothing and says so in its content policy", () => {
    const page = renderReport(samplePage);
    expect(page).toContain("default-src 'none'; style-src 'sha256-".replaceAll("'", "&#39;"));
    const hash = createHash("sha256").update(PAGE_SCRIPT).digest("base64");
    expect(page).toContain(`script-src &#39;sha256-${hash}&#39;`);
    expect(page.match(/<script>/g)).toHaveLength(1);
    expect(renderReport({ ...samplePage, brief: [], sections: [] })).not.toMatch(/<script|script-src/);
    expect(faultsOf(page)).toEqual([]);
    // Links lead inside the page or to a file to keep beside it, which is fetched only when asked for.
    expect(/\bsrc="/.exec(page)).toBeNull();
    expect(/\bhref="(?!#|(?:figures|tables)\/[\w-]+\.(?:svg|csv)" download>)/.exec(page)).toBeNull();
    expect(/@import|url\((?!#)/.exec(page)).toBeNull();
  });

  it("draws a figure once, and refers back to it where its numbers come again", () => {
    const page = renderReport(samplePage);
    const drawn = />Figure (\d+)\./.exec(page)?.[1];
    const again = /Drawn above as <a href="#([\w-]+)">Figure (\d+)<\/a>/.exec(page);
    expect(again?.[2]).toBe(drawn);
    expect(idsOf(page)).toContain(again?.[1]);
    expect(page.slice(again?.index)).toMatch(/<a href="tables\/[\w-]+\.csv" download>its numbers/);
  });

  it("gives every element an id of its own", () => {
    const page = renderReport(samplePage);
    const ids = idsOf(page);
    expect(ids.filter((id, at) => ids.indexOf(id) !== at)).toEqual([]);
    const pictures = [...page.matchAll(/<svg[\s\S]*?<\/svg>/g)].map(([svg]) => svg);
    expect(pictures).toHaveLength(3);
    for (const svg of pictures) {
      for (const reference of referencesOf(svg)) expect(idsOf(svg)).toContain(reference);
    }
    for (const reference of referencesOf(page)) expect(ids).toContain(reference);
  });

  it("links every section from the contents, whatever ids the exhibits have", () => {
    const page = renderReport({
      ...samplePage,
      sections: [
        { kind: "section", id: "report", title: "First", blocks: [] },
        { kind: "section", id: "brief", title: "Second", blocks: [] },
        {
          kind: "section",
          id: "exhibit-flow",
          title: "Third",
          blocks: [{ kind: "exhibit", exhibit: sampleFlow }],
        },
      ],
    });
    const links = [...page.matchAll(/<a href="#([^"]+)">/g)].map((match) => match[1] ?? "");
    expect(links).toEqual(["brief", "report-2", "brief-2", "exhibit-flow"]);
    for (const link of links)
      expect(page).toContain(`<section ${link === "brief" ? 'class="brief" ' : ""}id="${link}"`);
  });

  it("never skips a level of headings", () => {
    const nested: Block = {
      kind: "section",
      id: "a",
      title: "A",
      blocks: [
        {
          kind: "section",
          id: "b",
          title: "B",
          blocks: [{ kind: "section", id: "c", title: "C", blocks: [] }],
        },
      ],
    };
    const levels = [...renderReport(withBlocks(nested)).matchAll(/<h(\d)/g)].map((match) => Number(match[1]));
    expect(levels).toEqual([1, 2, 2, 3, 4, 5]);
  });

  it("sets a table with caption, scopes and numbers at the right", () => {
    const page = renderReport(withBlocks({ kind: "exhibit", exhibit: sampleTable }));
    expect(page).toContain('<span class="lead">Table 1.</span> Who was in each group');
    expect(page.match(/<th scope="col"/g)).toHaveLength(5);
    expect(page).toContain('<thead><tr><td class="start"></td>');
    expect(page.match(/<th scope="row"/g)).toHaveLength(5);
    expect(page.match(/<th scope="rowgroup" colspan="6"/g)).toHaveLength(1);
    expect(page).toContain('<td class="end" dir="auto">12\u202f840</td>');
    expect(page).toContain('<td class="end withheld" dir="auto">under 5</td>');
  });

  it("refuses a row that does not fit its columns, and names the table", () => {
    const row = { label: "x", heading: false, indent: 0, cells: [numberCell("1", 1)] };
    const table = cleared({ ...sampleTable, rows: [row] });
    expect(() => renderReport(withBlocks({ kind: "exhibit", exhibit: table }))).toThrow(ArgumentError);
    expect(() => renderReport(withBlocks({ kind: "exhibit", exhibit: table }))).toThrow(
      /"covariates".*1 cells.*5/,
    );
  });

  it("puts the same numbers as a table beneath every figure", () => {
    const page = renderReport(
      withBlocks({ kind: "exhibit", exhibit: sampleCurves, figure: curveFigure(sampleCurves) }),
    );
    const twin = page.slice(page.indexOf("Figure 1 as a table"));
    expect(twin).toContain("29.3 (15.6 to 43.0)");
    expect(twin).toContain("not drawn");
    expect(twin).toContain(">under 5<");
  });

  it("shows curves and flows without a figure as a table", () => {
    const page = renderReport(
      withBlocks({ kind: "exhibit", exhibit: sampleCurves }, { kind: "exhibit", exhibit: sampleFlow }),
    );
    expect(page).toContain("Table 1.");
    expect(page).toContain("Table 2.");
    expect(page).not.toContain("<details");
  });

  it("prints the stamp on the screen, beside every printed page, in every figure and at every table", () => {
    const page = renderReport(samplePage);
    expect(page).toContain('<aside class="stamp"');
    expect(page).toContain('<p class="stamp-strip" aria-hidden="true">INVENTED DATA</p>');
    expect(page).toContain("(INVENTED DATA)</title>");
    const tables = page.match(/<caption/g)?.length ?? 0;
    expect(page.match(/class="stamp-small">INVENTED DATA</g)).toHaveLength(tables);
    expect(renderReport({ ...EMPTY })).not.toContain('class="stamp');
  });

  it("prints boxes for a pen, not controls", () => {
    const page = renderReport(withBlocks({ kind: "choices", title: "Decide", items: ["one", "two"] }));
    expect(page.match(/class="box" aria-hidden="true"/g)).toHaveLength(2);
    expect(page).not.toContain("<input");
  });

  it("has a page for a study with nothing in it, without an empty brief", () => {
    const page = renderReport(EMPTY);
    expect(page).not.toContain("In brief");
    expect(page).toContain("<h1");
    expect(page).not.toMatch(/undefined|NaN/);
  });

  it.each(HOSTILE)("shows words as text in every place: %s", (_name, text) => {
    const page = renderReport(pageOf(text));
    expect(faultsOf(page)).toEqual([]);
    const ids = idsOf(page);
    expect(ids.filter((id, at) => ids.indexOf(id) !== at)).toEqual([]);
    expect(/undefined|NaN/.exec(page)).toBeNull();
  });
});

/** A page that says the same words wherever words can stand. */
function pageOf(text: string): ReportPage {
  const cell = { text, values: [], hidden: true };
  const part = { label: text, units: cell, persons: cell };
  const table = cleared({
    ...sampleTable,
    id: text,
    title: text,
    columns: [
      { id: text, label: text, align: "start" as const },
      { id: text, label: text, align: "end" as const },
    ],
    rows: [
      { label: text, heading: true, indent: 0, cells: [] },
      { label: text, heading: false, indent: 9, cells: [cell] },
    ],
    notes: [text],
  });
  const flow = cleared({
    ...sampleFlow,
    id: text,
    title: text,
    boxes: [{ ...part, removed: [part] }],
    groups: [part],
  });
  const curves = cleared({
    ...sampleCurves,
    id: text,
    title: text,
    question: text,
    curves: sampleCurves.curves.map((curve) => ({ ...curve, label: text })),
    landmarks: sampleCurves.landmarks.map((row) => ({ ...row, label: text })),
  });
  const blocks: Block[] = [
    { kind: "prose", text },
    { kind: "prose", text: [text, { strong: text }] },
    { kind: "list", items: [text] },
    { kind: "answer", text },
    { kind: "caution", text },
    { kind: "exhibit", exhibit: table },
    { kind: "exhibit", exhibit: flow, figure: flowFigure(flow, { stamp: text }) },
    { kind: "exhibit", exhibit: curves, figure: curveFigure(curves, { stamp: text }) },
    { kind: "folded", title: text, text },
    { kind: "facts", items: [{ term: text, text }] },
    { kind: "choices", title: text, items: [text] },
  ];
  const section = { kind: "section" as const, id: text, title: text, blocks };
  return {
    title: text,
    subtitle: text,
    stamp: text,
    brief: blocks,
    sections: [section, section],
    footer: [text],
  };
}
