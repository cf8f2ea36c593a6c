import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import notebook from "../../notebooks/what-the-unit-does.ts";
import { AUDIENCES, type Audience } from "../../src/disclosure/audience.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import { adherenceFiles } from "../../src/study/adherence/report.ts";
import { type AdherenceRun, runAdherence } from "../../src/study/adherence/run-adherence.ts";
import { notebookSource } from "../../src/study/notebook/notebook-source.ts";
import { attackerOf, solveSums } from "../disclosure/attacker.ts";

const PATH = join(import.meta.dirname, "../../notebooks/what-the-unit-does.ts");
const DEMO = join(import.meta.dirname, "../../data/demo/cases.csv");

let run: AdherenceRun;
beforeAll(async () => {
  run = await runAdherence(notebook, notebookSource(PATH));
});

/** The demo as a table of words, read without the package: its cells hold no comma. */
function demo(): Record<string, string>[] {
  const [head = "", ...lines] = readFileSync(DEMO, "utf8").trimEnd().split("\n");
  const names = head.split(",");
  return lines.map((line) => {
    const cells = line.split(",");
    return Object.fromEntries(names.map((name, at) => [name, cells[at] ?? ""]));
  });
}

describe("what the unit does", () => {
  it("counts what a naive reader of the file counts", () => {
    const rows = demo().filter(({ fixation }) => fixation === "cemented");
    const written = rows.filter(({ lavage }) => lavage === "pulsed" || lavage === "syringe");
    const pulsed = written.filter(({ lavage }) => lavage === "pulsed");
    const found = run.steps.find(({ label }) => label === "pulsed lavage");
    expect(run.looked.units).toBe(rows.length);
    expect(found?.shares.states.map(({ units }) => units)).toEqual([
      pulsed.length,
      written.length - pulsed.length,
      0,
      rows.length - written.length,
    ]);
    const after = written.filter(({ operation_date: date = "" }) => date >= "2016-01-01");
    expect(found?.change?.after.recorded.units).toBe(after.length);
    expect(found?.change?.after.states[0]?.units).toBe(
      after.filter(({ lavage }) => lavage === "pulsed").length,
    );
  });

  it("finds what was planted: lavage and change of gloves rise, tourniquets fall, keeping still does not move", () => {
    const changes = Object.fromEntries(run.steps.map(({ label, change }) => [label, change?.reading]));
    expect(changes).toMatchObject({
      "pulsed lavage": "more",
      "change of gloves": "moreIfWritten",
      tourniquet: "less",
      "no movement until set": "chance",
    });
  });

  it("adds up: every year and stratum to the whole", () => {
    for (const { levels, elsewhere } of [run.overYears, ...run.strata].flatMap((one) => one ?? [])) {
      for (const [at, { shares }] of run.steps.entries()) {
        const parts = [...levels.map(({ steps }) => steps[at]), elsewhere?.[at]];
        for (const [state, whole] of shares.states.entries()) {
          const sum = parts.reduce((total, part) => total + (part?.states[state]?.units ?? 0), 0);
          expect(sum).toBe(whole.units);
        }
      }
    }
  });

  it.each(["committee", "external"] as const)("gives the %s no small count back", (audience: Audience) => {
    const cleared = disclose(run.exhibits, audience);
    const attacker = attackerOf(run.exhibits, cleared);
    const { fixed } = solveSums(attacker);
    expect(attacker.small.filter((key) => fixed.has(key))).toEqual([]);
    expect(attacker.known.size).toBeGreaterThan(50);
  });

  it("prints nothing that is no number, and no surgeon", () => {
    for (const audience of AUDIENCES) {
      for (const [path, text] of adherenceFiles(run, disclose(run.exhibits, audience))) {
        expect(text.match(/NaN|Infinity|undefined|\bS\d\d\b/g), `${audience}: ${path}`).toBeNull();
      }
    }
  });
});
