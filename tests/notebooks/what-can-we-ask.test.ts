import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import notebook from "../../notebooks/what-can-we-ask.ts";
import { AUDIENCES, type Audience } from "../../src/disclosure/audience.ts";
import type { ClearedExhibits } from "../../src/disclosure/cleared.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import { feasibilityFiles } from "../../src/study/feasibility/report.ts";
import { type FeasibilityRun, runFeasibility } from "../../src/study/feasibility/run-feasibility.ts";
import { notebookSource } from "../../src/study/notebook/notebook-source.ts";

const PATH = join(import.meta.dirname, "../../notebooks/what-can-we-ask.ts");

let run: FeasibilityRun;
const cleared = new Map<Audience, ClearedExhibits>();
beforeAll(async () => {
  run = await runFeasibility(notebook, notebookSource(PATH));
  for (const audience of AUDIENCES) cleared.set(audience, disclose(run.exhibits, audience));
});
const seenBy = (audience: Audience) => {
  const found = cleared.get(audience);
  if (found === undefined) throw new Error("every audience was cleared");
  return found;
};
const tableOf = (audience: Audience, id: string) => {
  const found = seenBy(audience).exhibits.find((exhibit) => exhibit.id === id);
  return found?.kind === "table" ? found : undefined;
};

describe("what can we ask of the demo export", () => {
  it("gives verdicts that differ from step to step, as was planted", () => {
    const verdicts = (at: number) =>
      Object.fromEntries(
        (run.outcomes[at]?.questions ?? []).map(({ title, verdict }) => [title, verdict.kind]),
      );
    const [any, loosening] = [verdicts(0), verdicts(1)];
    // Chosen by surgeons, most of whom are of one mind.
    expect(any.tourniquet).toBe("within");
    // Applies to hard bone only, a third of the knees.
    expect(any["drilling of sclerotic bone"]).toBe("large");
    // Done in 93 of 100 knees.
    expect(any["tibia before femur"]).toBe("no");
    // Decided knee by knee.
    expect(any["no movement until set"]).toBe("yes");
    expect(new Set(Object.values(any)).size).toBe(4);
    // A rare outcome: nothing that matters can be seen.
    expect(new Set(Object.values(loosening))).toEqual(new Set(["large", "no"]));
  });

  it("shows no reader but the analyst a table by surgeon", () => {
    expect(tableOf("analyst", "by-surgeon")?.rows).toHaveLength(24);
    expect(tableOf("committee", "by-surgeon")).toBeUndefined();
    expect(tableOf("external", "by-surgeon")).toBeUndefined();
  });

  it("tells how many surgeons hardly vary only where they are enough not to be recognised", () => {
    for (const audience of ["committee", "external"] as const) {
      const { threshold } = seenBy(audience);
      const numbers = (tableOf(audience, "where-both")?.rows ?? []).flatMap(({ cells }) =>
        cells.slice(0, 3).flatMap(({ values }) => values),
      );
      expect(numbers.length).toBeGreaterThan(5);
      expect(numbers.filter((value) => value > 0 && value < threshold)).toEqual([]);
    }
  });

  it("hides a centre of fewer surgeons than the audience may see", () => {
    const shown = (audience: Audience) =>
      (tableOf(audience, "by-centre")?.rows ?? []).flatMap(({ cells }) =>
        cells.flatMap(({ values }) => values),
      );
    // Six surgeons a centre.
    expect(shown("committee").length).toBeGreaterThan(100);
    expect(shown("external")).toEqual([]);
  });

  it("prints no small count, no name of a surgeon and nothing that is no number", () => {
    for (const audience of AUDIENCES) {
      const files = feasibilityFiles(run, seenBy(audience));
      for (const [path, text] of files) {
        expect(text.match(/NaN|Infinity|undefined|\bS\d\d\b/g), `${audience}: ${path}`).toBeNull();
      }
      expect(files.get("index.html")).toContain("INVENTED");
    }
  });

  it("prints every threshold of its rules", () => {
    const page = (feasibilityFiles(run, seenBy("committee")).get("index.html") ?? "").replaceAll(
      "\u00a0",
      " ",
    );
    for (const threshold of [
      "50 %",
      "10 %",
      "20 %",
      "90 %",
      "80 %",
      "ratio of 5",
      "fewer than 5 surgeons",
      "0.001",
    ]) {
      expect(page).toContain(threshold);
    }
  });

  it("is the same to the byte when made again", async () => {
    const again = await runFeasibility(notebook, notebookSource(PATH));
    expect([...feasibilityFiles(again, disclose(again.exhibits, "committee"))]).toEqual([
      ...feasibilityFiles(run, seenBy("committee")),
    ]);
  });
});
