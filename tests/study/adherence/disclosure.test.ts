import { describe, expect, it } from "vitest";
import { disclose } from "../../../src/disclosure/disclose.ts";
import { allSteps } from "../../../src/study/adherence/all-steps.ts";
import { defineAdherence } from "../../../src/study/adherence/define-adherence.ts";
import { togetherExhibit } from "../../../src/study/adherence/exhibits/together.ts";
import { adherenceFiles } from "../../../src/study/adherence/report.ts";
import { type AdherenceRun, runAdherence } from "../../../src/study/adherence/run-adherence.ts";
import { attackerOf, solveSums } from "../../disclosure/attacker.ts";
import { smallStudy } from "../small-export.ts";

const PLAN = defineAdherence({
  id: "what-we-do",
  title: "What we do",
  question: "Do we do what we say we do?",
  export: "datapackage.json",
  eligibility: [],
  standards: [
    { step: "pulsedLavage", percentAtLeast: 90, reason: "agreed" },
    { step: "tibiaFirst", percentAtLeast: 90, reason: "agreed" },
  ],
  change: { on: "2015-01-01", what: "a checklist" },
  yearsInBlock: 4,
  strata: ["role:sclerosis"],
});

describe("a small unit's page on adherence", () => {
  it.each([
    ["committee", 160, 11],
    ["committee", 420, 12],
    ["external", 160, 13],
    ["external", 420, 14],
  ] as const)("gives the %s no small count of %i knees back", async (audience, knees, seed) => {
    const { source } = smallStudy({}, { knees, seed });
    const run = await runAdherence(PLAN, source);
    const cleared = disclose(run.exhibits, audience);
    const attacker = attackerOf(run.exhibits, cleared);
    const { fixed } = solveSums(attacker);
    expect(attacker.small.length).toBeGreaterThan(10);
    expect(attacker.small.filter((key) => fixed.has(key))).toEqual([]);
    // The same attacker wins where nothing is hidden.
    const open = attackerOf(run.exhibits, {
      ...disclose(run.exhibits, "analyst"),
      threshold: cleared.threshold,
    });
    const found = solveSums(open).fixed;
    // The halves of a year that the change cuts are on no page.
    const onPages = open.small.filter((key) => !/by-year\/[^/]+\/(before|after)\//.test(key));
    expect(onPages.filter((key) => !found.has(key))).toEqual([]);
    const page = adherenceFiles(run, cleared).get("index.html") ?? "";
    expect(page).toContain("hidden");
    expect(page).not.toMatch(/NaN|Infinity|undefined/);
  });

  it("hides what its standards and findings tell of a small number", async () => {
    const { source } = smallStudy({}, { knees: 160, seed: 11 });
    const cleared = disclose((await runAdherence(PLAN, source)).exhibits, "committee");
    const table = cleared.exhibits.find(({ id }) => id === "standards");
    const rows = table?.kind === "table" ? table.rows : [];
    const [share, reading] = [0, 3];
    const hidden = rows.filter(({ cells }) => cells[share]?.hidden);
    expect(hidden.length).toBeGreaterThan(0);
    expect(hidden.every(({ cells }) => cells[reading]?.hidden || cells[reading]?.text === "not judged")).toBe(
      true,
    );
  });

  it("takes a level where no surgeon is named for one surgeon's", async () => {
    const { source } = smallStudy(
      {},
      {
        knees: 900,
        seed: 5,
        csv: (text) => text.replace(/,C1,S\d+,/g, ",C1,,"),
        descriptor: (one) =>
          JSON.parse(JSON.stringify(one).replaceAll('"required":true', '"required":false')),
      },
    );
    const plan = defineAdherence({ ...PLAN.plan, strata: ["role:centre"] });
    const found = disclose((await runAdherence(plan, source)).exhibits, "committee").exhibits.find(
      ({ id }) => id === "by-stratum-1-done",
    );
    const first = found?.kind === "table" ? found.rows.map(({ cells }) => cells[0]) : [];
    expect(first.length).toBeGreaterThan(5);
    expect(first.every((cell) => cell?.hidden)).toBe(true);
  });
});

describe("all steps together", () => {
  const all = (count: number, kind: string) => Array<string>(count).fill(kind);
  /** D done, N not done, O not recorded; two steps. */
  const found = (...kinds: readonly string[]) => {
    const of = (at: number) => Uint8Array.from(kinds, (kind) => ["D", "N", "X", "O"].indexOf(kind[at] ?? ""));
    const rows = [...kinds.keys()];
    const persons = { codes: Int32Array.from(rows), count: rows.length };
    return allSteps([{ states: of(0) }, { states: of(1) }], rows, persons, 0.95);
  };

  it("gives no bounds that would give a small number back by division", () => {
    // 60 / 61.2 % leaves 98 where a step applies, of which 97 are on the page.
    const together = {
      labels: ["one", "other"],
      found: found(...all(60, "DD"), ...all(20, "DN"), "NO", ...all(17, "DO"), "XX"),
    };
    const run: Partial<AdherenceRun> = {
      together,
      looked: { units: 99, persons: 99 },
      level: 0.95,
    };
    const exhibits = togetherExhibit(run as AdherenceRun);
    const [table] = disclose(exhibits, "committee").exhibits;
    const cells = table?.kind === "table" ? table.rows.map(({ cells: [cell] }) => cell) : [];
    expect(cells[2]?.hidden).toBe(true);
    expect(cells.at(-1)?.hidden).toBe(true);
  });
});
