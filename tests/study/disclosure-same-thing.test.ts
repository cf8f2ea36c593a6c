import { describe, expect, it } from "vitest";
import { cellsOf } from "../../src/disclosure/cleared-cells.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import { definitionOf } from "../../src/study/held-reports/definition-of.ts";
import { heldReport } from "../../src/study/held-reports/held-report.ts";
import { reportFiles } from "../../src/study/making/report-files.ts";
import type { StudyPlan } from "../../src/study/plan/plan.ts";
import { runStudy } from "../../src/study/run.ts";
import { heldOf } from "../disclosure/held.ts";
import { PLAN, smallStudy } from "./small-export.ts";

const OPTIONS = { knees: 1500, seed: 32 };
const CENTRES = ["C1", "C2", "C3"];
const byCentre = (groups: readonly string[]): Partial<StudyPlan> => ({
  exposure: { field: "centre", groups: [...groups] },
});
const aged = (from: number): Partial<StudyPlan> => ({
  eligibility: [...PLAN.eligibility, { label: "old enough", field: "role:ageYears", from }],
});
const runOf = (plan: Partial<StudyPlan>) => {
  const { study, source } = smallStudy(plan, OPTIONS);
  return runStudy(study, source);
};

const { event } = PLAN.endpoint;
/** Another thing under the same names and places. */
const OTHERS: Readonly<Record<string, Partial<StudyPlan>>> = {
  "the groups the other way round": byCentre(CENTRES.toReversed()),
  "the first group left out": byCentre(CENTRES.slice(1)),
  "another reason under the same word": {
    ...byCentre(CENTRES),
    endpoint: { ...PLAN.endpoint, event: { label: event.label, revisionFor: ["infection"] } },
  },
  "another level": { ...byCentre(CENTRES), level: 0.9 },
};

describe("a number given as in the report before", () => {
  const firstReport = once(async () => {
    const run = await runOf({ ...byCentre(CENTRES), ...aged(47) });
    const cleared = disclose(run.exhibits, "committee");
    return { run, cleared, held: heldOf(cleared, "before", definitionOf(run.facts)) };
  });
  const marksOf = async (plan: Partial<StudyPlan>) => {
    const { held } = await firstReport();
    const run = await runOf({ ...plan, ...aged(46) });
    const { exhibits } = disclose(run.exhibits, "committee", {
      readersHold: [held],
      definition: definitionOf(run.facts),
    });
    const lines = exhibits.flatMap((one) => (one.kind === "curves" ? one.curves : []));
    return {
      exhibits,
      marks: [...exhibits.flatMap(cellsOf), ...lines].filter(({ asBefore }) => asBefore).length,
    };
  };

  it("stands in the same row, under the same heading, and in the same column there", async () => {
    const { exhibits, marks } = await marksOf(byCentre(CENTRES));
    expect(marks).toBeGreaterThan(20);
    const { cleared } = await firstReport();
    const before = new Map(cleared.exhibits.map((one) => [one.id, one]));
    let compared = 0;
    for (const exhibit of exhibits) {
      const was = before.get(exhibit.id);
      if (exhibit.kind !== "table" || was?.kind !== "table") continue;
      for (const [row, { cells }] of exhibit.rows.entries()) {
        for (const [at, { asBefore, text }] of cells.entries()) {
          if (!asBefore) continue;
          const column = exhibit.columns[at + 1]?.label;
          const rowsThere = was.rows.filter(({ label }) => label === exhibit.rows[row]?.label);
          const place = was.columns.findIndex(({ label }) => label === column) - 1;
          expect(rowsThere.map((one) => one.cells[place]?.text)).toContain(text.slice(0, -1));
          compared += 1;
        }
      }
    }
    expect(compared).toBeGreaterThan(5);
  });

  it.each(Object.entries(OTHERS))("is not lent by a report of another thing: %s", async (_name, plan) => {
    expect((await marksOf(plan)).marks).toBe(0);
  });

  it("is of the same definition in results.json as in the run", async () => {
    const { run, cleared } = await firstReport();
    const record = reportFiles(run, cleared).get("results.json") ?? "";
    expect(heldReport("first", record).definition).toBe(definitionOf(run.facts));
    expect(definitionOf(run.facts)).toMatch(/^[0-9a-f]{64}$/);
  });
});

function once<Value>(make: () => Promise<Value>): () => Promise<Value> {
  let made: Promise<Value> | undefined;
  return () => {
    made ??= make();
    return made;
  };
}
