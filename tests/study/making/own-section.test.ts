import { describe, expect, it } from "vitest";
import { whoKeptStill } from "../../../notebooks/movement-before-set/who-kept-still.ts";
import { disclose } from "../../../src/disclosure/disclose.ts";
import type { TableExhibit } from "../../../src/disclosure/exhibit.ts";
import { exhibitBlock } from "../../../src/study/making/exhibit-block.ts";
import type { OwnSection } from "../../../src/study/making/own-section.ts";
import { reportFiles } from "../../../src/study/making/report-files.ts";
import { defineStudy } from "../../../src/study/plan/define-study.ts";
import { runStudy } from "../../../src/study/run.ts";
import { SECTIONS } from "../../../src/study/sections/sections.ts";
import { PLAN, smallStudy } from "../small-export.ts";

const table = (cell: TableExhibit["rows"][number]["cells"][number]): TableExhibit => ({
  kind: "table",
  id: "own",
  title: "My table",
  columns: [
    { id: "row", label: "Row" },
    { id: "value", label: "Value" },
  ],
  rows: [{ label: "a", cells: [cell] }],
});
const section = (exhibit?: TableExhibit): OwnSection => ({
  id: "my-own",
  title: "My <own> section",
  ...(exhibit === undefined ? {} : { exhibits: () => [exhibit] }),
  blocks: (view, figures) => [
    { kind: "prose", text: `It reads ${view.cell("own", "a", "value")?.text}.` },
    ...exhibitBlock(view.table("own"), figures),
  ],
});

describe("sections of a notebook's own", () => {
  it("stand before the methods, say whose words they are, and pass disclosure control", async () => {
    const small = table({ kind: "count", count: { key: "my/count", units: 3, persons: 3 } });
    const { study, source } = smallStudy();
    const run = await runStudy({ ...study, sections: [section(small), whoKeptStill] }, source);
    const files = reportFiles(run, disclose(run.exhibits, "committee"));
    const page = files.get("index.html") ?? "";
    const places = ['<h2 id="my-own-heading"', '<h2 id="who-kept-still-heading"', '<h2 id="methods-heading"'];
    const at = places.map((text) => page.indexOf(text));
    expect(at.every((place, order) => place > (at[order - 1] ?? 0))).toBe(true);
    expect(page.includes("My &lt;own&gt; section")).toBe(true);
    expect(page.includes("It reads hidden.")).toBe(true);
    expect(page.includes("its words are its author&#39;s")).toBe(true);
    const csv = files.get("tables/own.csv") ?? "";
    expect(csv).toContain("hidden");
    expect(csv).not.toMatch(/\b3\b/);
    const analysts = reportFiles(run, disclose(run.exhibits, "analyst"));
    expect(analysts.get("tables/own.csv")).toMatch(/\b3\b/);
    expect(files.get("tables/still-by-operator.csv")).toMatch(/\d %\)/);
  });

  it("refuse a number that names no count", async () => {
    const bare = table({ kind: "number", value: 0.25, decimals: 2, restsOn: [] });
    const { study, source } = smallStudy();
    await expect(runStudy({ ...study, sections: [section(bare)] }, source)).rejects.toThrow(
      /sections "my-own": the table "own" has a number that names no count/,
    );
  });

  it("are no part of the plan, and have ids of their own", () => {
    const own = section();
    expect(defineStudy({ ...PLAN, sections: [own] })).toEqual({ kind: "study", plan: PLAN, sections: [own] });
    expect(() => defineStudy({ ...PLAN, sections: [own, own] })).toThrow(/its own; received "my-own"/);
    expect(() => defineStudy({ ...PLAN, sections: [{ ...own, id: "My own" }] })).toThrow(/joined by hyphens/);
  });

  it.each(["report", "brief", "contents", ...SECTIONS.map(({ id }) => id)])(
    "cannot be taken for the standard part %s",
    (id) => {
      expect(() => defineStudy({ ...PLAN, sections: [{ ...section(), id }] })).toThrow(
        `the id "${id}" belongs to a standard part`,
      );
    },
  );

  it("are handed no count but in what they put before disclosure control", async () => {
    const given: object[] = [];
    const curious: OwnSection = {
      id: "curious",
      title: "Curious",
      exhibits: ({ facts }) => {
        given.push(facts);
        return [];
      },
      blocks: (_view, _figures, facts) => {
        given.push(facts);
        return [{ kind: "prose", text: facts.cause }];
      },
    };
    const { study, source } = smallStudy();
    const run = await runStudy({ ...study, sections: [curious] }, source);
    reportFiles(run, disclose(run.exhibits, "committee"));
    expect(given).toHaveLength(2);
    expect(run.facts.clusters.clusters).toBeGreaterThan(0);
    for (const facts of given) {
      expect(facts).not.toHaveProperty("findings");
      expect(facts).toHaveProperty("clusters", { by: run.facts.clusters.by });
    }
  });
});
