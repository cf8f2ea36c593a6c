import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { cellsHidden, cellsOf } from "../../src/disclosure/cleared-cells.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Cell } from "../../src/disclosure/exhibit.ts";
import { reportFiles } from "../../src/study/making/report-files.ts";
import { loadNotebook } from "../../src/study/notebook/load-notebook.ts";
import { runStudy, type StudyRun } from "../../src/study/run.ts";
import { solveSums } from "../disclosure/attacker.ts";
import { table } from "../disclosure/exhibits.ts";
import { smallCells } from "../disclosure/small-cells.ts";
import { ATTACKED } from "./attacked-studies.ts";
import { knownEvents } from "./known-events.ts";
import { reportAttacker } from "./report-attacker.ts";
import { smallStudy } from "./small-export.ts";

const NOTEBOOK = join(import.meta.dirname, "../../notebooks/tourniquet-and-loosening.ts");
const THRESHOLD = 5;

interface Copies {
  readonly name: string;
  readonly run: StudyRun;
  readonly committee: ReturnType<typeof disclose>;
  readonly external: ReturnType<typeof disclose>;
}

const made: Copies[] = [];

/** The demo and the small studies, each as both circles may see it; made once by the first test that asks. */
async function copies(): Promise<readonly Copies[]> {
  if (made.length > 0) return made;
  const { declared, source } = await loadNotebook(NOTEBOOK);
  if (declared.kind !== "study") throw new Error("a study was expected");
  const runs: [string, StudyRun][] = [["the demo", await runStudy(declared, source)]];
  for (const [name, plan, options] of ATTACKED) {
    const small = smallStudy(plan, options);
    runs.push([name, await runStudy(small.study, small.source)]);
  }
  for (const [name, run] of runs) {
    made.push({
      name,
      run,
      committee: disclose(run.exhibits, "committee"),
      external: disclose(run.exhibits, "external"),
    });
  }
  return made;
}

describe("both copies of a report beside each other", () => {
  it("let sums give no small count back", async () => {
    let small = 0;
    for (const { name, run, committee, external } of await copies()) {
      const one = reportAttacker(run, committee);
      const other = reportAttacker(run, external);
      const both = {
        ...one,
        known: new Set([...one.known, ...other.known]),
        sums: [...one.sums, ...other.sums],
      };
      const { fixed } = solveSums(both);
      small += one.small.length;
      expect(
        one.small.filter((key) => fixed.has(key)),
        name,
      ).toEqual([]);
    }
    expect(small).toBeGreaterThan(150);
  });

  it("show the wider circle nothing that the narrower one does not see", async () => {
    for (const { name, committee, external } of await copies()) {
      for (const exhibit of external.exhibits) {
        const own = committee.exhibits.find(({ id }) => id === exhibit.id);
        if (own === undefined || exhibit.kind === "curves") continue;
        const hidden = cellsOf(own).map((cell) => cell.hidden);
        const seen = cellsOf(exhibit).filter((cell, at) => hidden[at] && !cell.hidden);
        expect(seen, `${name}: ${exhibit.id}`).toEqual([]);
      }
    }
  });
});

describe("everything that tells events by a time", () => {
  it("leaves no two numbers of events that differ by a small one, in one copy or in both", async () => {
    let known = 0;
    for (const { name, run, committee, external } of await copies()) {
      for (const group of run.facts.groups) {
        const events = new Set([...knownEvents(run, committee, group), ...knownEvents(run, external, group)]);
        const sorted = [...events].sort((a, b) => a - b);
        known += sorted.length;
        const steps = sorted.slice(1).map((number, at) => number - (sorted[at] ?? 0));
        expect(
          steps.filter((step) => step < THRESHOLD),
          `${name}, ${group}: ${sorted.join(" ")}`,
        ).toEqual([]);
      }
    }
    expect(known).toBeGreaterThan(30);
  });

  it("would not, if every point of the curve were drawn", async () => {
    // The attack itself must be able to succeed.
    const [{ run }] = (await copies()) as [Copies];
    const events = knownEvents(run, disclose(run.exhibits, "analyst"), run.facts.groups[0] ?? "");
    expect(events.has(1)).toBe(true);
    expect(events.has(2)).toBe(true);
  });
});

describe("the files of a report", () => {
  it("hold no point of a curve in a picture that the cleared points do not hold", async () => {
    let seen = 0;
    for (const { name, run, committee, external } of await copies()) {
      for (const cleared of [committee, external]) {
        const files = reportFiles(run, cleared);
        for (const exhibit of cleared.exhibits) {
          if (exhibit.kind !== "curves") continue;
          const svg = files.get(`figures/${exhibit.id}.svg`) ?? "";
          const dots = [...svg.matchAll(/<circle[^>]*>/g)].length;
          const rises = exhibit.curves.reduce(
            (sum, { value }) => sum + value.filter((one, at) => at > 0 && one !== value[at - 1]).length,
            0,
          );
          seen += dots;
          expect(dots, `${name}: ${exhibit.id}`).toBe(rises);
          // Corners of the lines: a point each, the start, and the end of each line.
          const corners = [...svg.matchAll(/<g[^>]*stroke-width="2\.[24]"[^>]*><path[^>]*d="([^"]*)"/g)];
          for (const [, path = ""] of corners) {
            const most = Math.max(...exhibit.curves.map(({ time }) => time.length + 1));
            expect(path.match(/[MLHV]/g)?.length ?? 0, `${name}: ${exhibit.id}`).toBeLessThanOrEqual(most);
          }
        }
      }
    }
    expect(seen).toBeGreaterThan(20);
  });

  it("hold the same numbers in a table's CSV as in results.json, and none besides", async () => {
    for (const { name, run, committee } of (await copies()).slice(0, 4)) {
      const files = reportFiles(run, committee);
      for (const exhibit of committee.exhibits) {
        if (exhibit.kind !== "table") continue;
        const told = new Set(
          exhibit.rows.flatMap(({ label, cells }) => [
            ...numbersIn(label),
            ...cells.flatMap(({ text, values }) => [...values.map(String), ...numbersIn(text)]),
          ]),
        );
        const lines = (files.get(`tables/${exhibit.id}.csv`) ?? "").split("\r\n").slice(1);
        const strange = lines.flatMap(numbersIn).filter((number) => !told.has(number));
        expect(strange, `${name}: ${exhibit.id}`).toEqual([]);
      }
    }
  });

  it("say what is not excluded, in every copy but the analysts'", async () => {
    for (const { run, committee, external } of (await copies()).slice(0, 2)) {
      for (const cleared of [committee, external]) {
        const page = reportFiles(run, cleared).get("index.html") ?? "";
        expect(page).toContain("Other attacks are not excluded.");
        expect(page).toContain("with another plan or with a later data cut");
      }
    }
  });
});

describe("a widened risk", () => {
  it("fits several numbers of events, estimate and limits together", async () => {
    const [{ run, committee }] = (await copies()) as [Copies];
    const shown = committee.exhibits.find(({ id }) => id === "risk-at-years");
    const exact = run.exhibits.find(({ id }) => id === "risk-at-years");
    if (shown?.kind !== "table" || exact?.kind !== "table") throw new Error("a table was expected");
    const at = shown.rows.findIndex(({ label }) => label === "Crude, at 10 years");
    const place = shown.rows[at]?.cells.findIndex(({ coarse }) => coarse !== undefined) ?? -1;
    const [cell, printed] = [exact.rows[at]?.cells[place], shown.rows[at]?.cells[place]];
    if (cell?.kind !== "numbers" || cell.oneMoreChanges === undefined)
      throw new Error("a range was expected");
    const events = cell.restsOn[0]?.units ?? 0;
    const [change = 0] = cell.oneMoreChanges;
    const [estimate = 0, low = 0, high = 0] = cell.values;
    // Known to the reader: 16 by 5 years and 22 in all.
    const told = [
      { key: "events/x/a/to:5", units: 16 },
      { key: "events/x/a", units: 22 },
    ];
    const fits = [16, 17, 18, 19, 20, 21, 22].filter((number) => {
      // What the reader would compute for another number: the estimate moves by an event each, its limits with the root.
      const value = estimate + (number - events) * change;
      const root = Math.sqrt(number / events);
      const values = [value, value - root * (estimate - low), value + root * (high - estimate)];
      const other: Cell = {
        ...cell,
        values,
        restsOn: [{ key: "events/x/a/to:10", units: number }],
        oneMoreChanges: [change],
      };
      const cells = [...told.map((count): Cell => ({ kind: "count", count })), other];
      const [again] = disclose([table("again", [cells, cells.slice(0, 2)])], "committee").exhibits;
      return again?.kind === "table" && again.rows[0]?.cells[2]?.text === printed?.text;
    });
    expect(fits.length).toBeGreaterThanOrEqual(3);
    expect(fits).toContain(events);
  });
});

describe("what results.json says of every count", () => {
  it("is no more than a reader of the page can work out", async () => {
    let [exact, ranges, hidden] = [0, 0, 0];
    for (const { name, run, committee, external } of await copies()) {
      for (const cleared of [committee, external]) {
        const attacker = reportAttacker(run, cleared);
        const { fixed } = solveSums(attacker);
        const events = new Set(run.facts.groups.flatMap((group) => [...knownEvents(run, cleared, group)]));
        for (const { key, low, high } of cleared.told?.counts ?? []) {
          const truth = attacker.truth.get(key);
          if (low === undefined || high === undefined) {
            hidden += 1;
            continue;
          }
          if (truth !== undefined) expect(low <= truth && truth <= high, `${name}: ${key}`).toBe(true);
          if (low < high) {
            ranges += 1;
            // Never narrower than what a rounded number at risk leaves open.
            expect(high - low, `${name}: ${key}`).toBeGreaterThanOrEqual(4);
            continue;
          }
          exact += 1;
          const isSmall = low > 0 && low < cleared.threshold;
          expect(isSmall || attacker.small.includes(key), `${name}: ${key} is told`).toBe(false);
          // Persons stand in the flow beside the units; a point of a line is told by the line.
          const isElsewhere = key.includes("/persons") || (key.startsWith("events/") && events.has(low));
          const isOpen = truth !== undefined && !fixed.has(key) && !isElsewhere;
          expect(isOpen, `${name}, ${cleared.audience}: ${key}`).toBe(false);
        }
      }
    }
    expect(exact).toBeGreaterThan(1000);
    expect(Math.min(ranges, hidden)).toBeGreaterThan(20);
  });
});

describe("how much of the demo is hidden", () => {
  it("is at most twice what hiding small counts alone would hide", async () => {
    const [{ run, committee }] = (await copies()) as [Copies];
    const tables = committee.exhibits.filter(({ kind }) => kind === "table");
    const primary = smallCells(run.exhibits, committee).length;
    const { hidden } = cellsHidden({ ...committee, exhibits: tables });
    expect(primary).toBeGreaterThan(3);
    expect(hidden).toBeLessThanOrEqual(2 * primary);
  });
});

function numbersIn(text: string): string[] {
  return text.replaceAll("\u202f", "").match(/\d+(?:\.\d+)?/g) ?? [];
}
