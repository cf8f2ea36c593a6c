import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Audience } from "../../src/disclosure/audience.ts";
import type { ClearedExhibits } from "../../src/disclosure/cleared.ts";
import { cellsHidden, cellsOf } from "../../src/disclosure/cleared-cells.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import { definitionOf } from "../../src/study/held-reports/definition-of.ts";
import { loadNotebook } from "../../src/study/notebook/load-notebook.ts";
import { runStudy, type StudyRun } from "../../src/study/run.ts";
import { heldOf } from "../disclosure/held.ts";
import { ATTACKED_PAIRS, type AttackedPair } from "./attacked-pairs.ts";
import { smallStudy } from "./small-export.ts";
import { takenFromBoth } from "./two-reports-attacker.ts";

const NOTEBOOK = join(import.meta.dirname, "../../notebooks/tourniquet-and-loosening.ts");
const DEMO = "the demo, and from 45 years";
const EVERYTHING_MOVED = "a year more: some knees, revisions and deaths";
const GUARDED: readonly Audience[] = ["committee", "external"];

interface Pair extends Pick<AttackedPair, "name" | "harmless"> {
  readonly audience: Audience;
  readonly runs: readonly [StudyRun, StudyRun];
  readonly first: ClearedExhibits;
  /** The second as it is without a thought of the first, and with it. */
  readonly alone: ClearedExhibits;
  readonly beside: ClearedExhibits;
}

const made: Pair[] = [];

/** Every pair for both circles, made once by the first test that asks. */
async function pairs(): Promise<readonly Pair[]> {
  if (made.length > 0) return made;
  for (const pair of ATTACKED_PAIRS) {
    const both = [await runOf(pair.options, pair.first), await runOf(pair.options, pair.second)] as const;
    for (const audience of pair.harmless ? GUARDED.slice(0, 1) : GUARDED)
      made.push(pairOf(pair, audience, both));
  }
  // The unit's own report, and the same from an age that leaves out a few knees.
  const { declared, source } = await loadNotebook(NOTEBOOK);
  if (declared.kind !== "study") throw new Error("a study was expected");
  const older = { label: "aged 45 or over", field: "role:ageYears", from: 45 };
  const aged = {
    ...declared,
    plan: { ...declared.plan, eligibility: [...declared.plan.eligibility, older] },
  };
  const demo = [await runStudy(declared, source), await runStudy(aged, source)] as const;
  made.push(pairOf({ name: DEMO }, "committee", demo));
  return made;
}

const runs = new Map<string, StudyRun>();

/** Pairs share what is the same in both; a change of the rows is a study of its own. */
async function runOf(options: AttackedPair["options"], { plan, csv }: AttackedPair["first"]) {
  const name = JSON.stringify([options, plan]);
  const known = csv === undefined ? runs.get(name) : undefined;
  if (known !== undefined) return known;
  const { study, source } = smallStudy(plan, csv === undefined ? options : { ...options, csv });
  const run = await runStudy(study, source);
  if (csv === undefined) runs.set(name, run);
  return run;
}

function pairOf(pair: Pick<AttackedPair, "name" | "harmless">, audience: Audience, both: Pair["runs"]): Pair {
  const one = disclose(both[0].exhibits, audience);
  const alone = disclose(both[1].exhibits, audience);
  const [before, definition] = both.map(({ facts }) => definitionOf(facts));
  const beside = disclose(both[1].exhibits, audience, {
    readersHold: [heldOf(one, "before", before)],
    definition,
  });
  return { ...pair, audience, runs: both, first: one, alone, beside };
}

describe("a reader of two reports of one unit", () => {
  it("would get small numbers where the second is made without a thought of the first", async () => {
    // The attack itself must be able to succeed: for one of the two circles at least.
    const taken = new Set<string>();
    for (const { name, runs, first, alone } of await pairs()) {
      const [one, two] = [
        { run: runs[0], cleared: first },
        { run: runs[1], cleared: alone },
      ];
      if (takenFromBoth(one, two, first.threshold).length > 0) taken.add(name);
    }
    const harmful = ATTACKED_PAIRS.flatMap(({ name, harmless }) => (harmless ? [] : [name]));
    expect([...taken]).toEqual([...harmful, DEMO]);
  });

  it("gets none where the second is made for readers who hold the first", async () => {
    for (const { name, audience, runs, first, beside } of await pairs()) {
      const [one, two] = [
        { run: runs[0], cleared: first },
        { run: runs[1], cleared: beside },
      ];
      expect(takenFromBoth(one, two, first.threshold), `${name}, ${audience}`).toEqual([]);
    }
  });

  it("still reads a report: little more is hidden, the rest is new or as in the first", async () => {
    for (const { name, audience, alone, beside } of await pairs()) {
      const [{ hidden, cells }, now] = [cellsHidden(alone), cellsHidden(beside)];
      // Where every kind of count changed by a few, the rest is neither new enough to be told nor near enough to be lent.
      const most = name === EVERYTHING_MOVED ? 0.55 : 0.25;
      expect((now.hidden - hidden) / cells, `${name}, ${audience}`).toBeLessThan(most);
    }
  });

  it("is given no number in a mark but one that stands in the first", async () => {
    let marked = 0;
    for (const { name, first, beside } of await pairs()) {
      const stood = new Set(first.exhibits.flatMap(cellsOf).map(({ text }) => text));
      for (const { asBefore, text } of beside.exhibits.flatMap(cellsOf)) {
        if (!asBefore) continue;
        marked += 1;
        expect(text, name).toMatch(/†$/);
        expect(stood, name).toContain(text.slice(0, -1));
      }
    }
    expect(marked).toBeGreaterThan(100);
  });
});
