import { describe, expect, it } from "vitest";
import type { Audience } from "../../src/disclosure/audience.ts";
import type { ClearedExhibits } from "../../src/disclosure/cleared.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Cell, Count } from "../../src/disclosure/exhibit.ts";
import { reportFiles } from "../../src/study/making/report-files.ts";
import { runStudy, type StudyRun } from "../../src/study/run.ts";
import { solveSums } from "../disclosure/attacker.ts";
import { ATTACKED } from "./attacked-studies.ts";
import { reportAttacker } from "./report-attacker.ts";
import { smallStudy } from "./small-export.ts";

const GUARDED: readonly Audience[] = ["committee", "external"];

interface Written {
  readonly name: string;
  readonly run: StudyRun;
  readonly audience: Audience;
  readonly files: ReadonlyMap<string, string>;
  readonly results: ClearedExhibits & { readonly settings: Readonly<Record<string, unknown>> };
}

const written: Written[] = [];

/** Every report, made once by the first test that asks: an export's folder belongs to the test that made it. */
async function reports(): Promise<readonly Written[]> {
  if (written.length > 0) return written;
  for (const [name, plan, options] of ATTACKED) {
    const { study, source } = smallStudy(plan, options);
    const run = await runStudy(study, source);
    for (const audience of GUARDED) {
      const files = reportFiles(run, disclose(run.exhibits, audience));
      written.push({ name, run, audience, files, results: JSON.parse(files.get("results.json") ?? "{}") });
    }
  }
  return written;
}

const countsOf = (cell: Cell): readonly Count[] => {
  if (cell.kind === "count") return [cell.count];
  if (cell.kind === "share") return [cell.part, cell.whole];
  return cell.kind === "text" || cell.kind === "none" ? [] : cell.restsOn;
};

const isSmall = ({ units, persons = units }: Count, threshold: number) =>
  units > 0 && Math.min(units, persons) < threshold;

/** The words of a page, without its styles. */
const wordsOf = (html: string) => html.replace(/<style[\s\S]*?<\/style>/g, " ").replace(/<[^>]*>/g, " ");

describe("a whole report for readers outside the analysis", () => {
  it("shows no number that rests on a small count, in results.json or in the tables", async () => {
    let small = 0;
    for (const { name, audience, run, results, files } of await reports()) {
      for (const exhibit of run.exhibits) {
        const shown = results.exhibits.find(({ id }) => id === exhibit.id);
        if (exhibit.kind !== "table" || shown?.kind !== "table") continue;
        const lines = (files.get(`tables/${exhibit.id}.csv`) ?? "").split("\n");
        for (const [row, { cells, label }] of exhibit.rows.entries()) {
          for (const [column, cell] of cells.entries()) {
            if (!countsOf(cell).some((count) => isSmall(count, results.threshold))) continue;
            small += 1;
            const what = `${name}, ${audience}: ${exhibit.id}, ${label}, column ${column}`;
            expect(shown.rows[row]?.cells[column], what).toMatchObject({ hidden: true, values: [] });
            expect(lines[row + 1], what).toContain("hidden");
          }
        }
      }
    }
    expect(small).toBeGreaterThan(200);
  });

  it("writes no small number of people, surgeons or revisions into its words", async () => {
    for (const { name, audience, results, files } of await reports()) {
      const words = wordsOf(files.get("index.html") ?? "").replace(/\s+/g, " ");
      const found =
        words.match(/(?:\S+ ){0,3}\b(?<![.,–−])\d+ (?:knees?|patients?|surgeons?|revisions?)\b/g) ?? [];
      const told = found.filter((text) => {
        const number = Number(/(\d+) \D+$/.exec(text)?.[1]);
        const isRule = /(?:at least|fewer than|under|with two|per) \d+ \D+$/.test(text);
        return number > 0 && number < results.threshold && !isRule;
      });
      expect(told, `${name}, ${audience}`).toEqual([]);
    }
  });

  it("gives no hidden count back to a reader who knows how a study adds up", async () => {
    let small = 0;
    for (const { name, audience, run, results } of await reports()) {
      const attacker = reportAttacker(run, results);
      const { fixed } = solveSums(attacker);
      small += attacker.small.length;
      expect(
        attacker.small.filter((key) => fixed.has(key)),
        `${name}, ${audience}`,
      ).toEqual([]);
    }
    expect(small).toBeGreaterThan(300);
  });

  it("would give them back where only the small cells were hidden", async () => {
    // The attack itself must be able to succeed.
    const [{ run, results } = written[0]!] = (await reports()).filter(({ name }) =>
      name.startsWith("a centre of three"),
    );
    const attacker = reportAttacker(run, results);
    const known = new Set([...attacker.truth.keys()].filter((key) => !attacker.small.includes(key)));
    const { fixed } = solveSums({ ...attacker, known });
    expect(fixed).toContain("group/C3");
    expect(attacker.small.filter((key) => fixed.has(key)).length).toBeGreaterThan(10);
  });

  it("draws no curve and no rate of a group whose size is hidden", async () => {
    let hidden = 0;
    for (const { name, audience, results } of await reports()) {
      const table = (id: string) => results.exhibits.find((exhibit) => exhibit.id === id);
      const followUp = table("follow-up");
      const rates = table("rates");
      if (followUp?.kind !== "table" || rates?.kind !== "table") throw new Error("no such table");
      for (const { label, cells } of followUp.rows.filter((row) => row.cells[0]?.hidden)) {
        hidden += 1;
        const what = `${name}, ${audience}: ${label}`;
        expect(
          cells.flatMap(({ values }) => values),
          what,
        ).toEqual([]);
        for (const row of rates.rows.filter((one) => one.label === label)) {
          expect([row.cells[1]?.values, row.cells[2]?.values], what).toEqual([[], []]);
        }
        for (const exhibit of results.exhibits) {
          if (exhibit.kind === "curves")
            expect(
              exhibit.curves.map((one) => one.label),
              what,
            ).not.toContain(label);
        }
      }
    }
    expect(hidden).toBeGreaterThan(2);
  });

  it("names no number of patients, and no number of surgeons below the threshold, in its settings", async () => {
    const clusterNumbers = (value: unknown, path: string): string[] => {
      if (typeof value === "number") return /cluster|freedom/i.test(path) ? [`${path}: ${value}`] : [];
      if (value === null || typeof value !== "object") return [];
      return Object.entries(value).flatMap(([key, part]) => clusterNumbers(part, `${path}/${key}`));
    };
    for (const { name, audience, run, results } of await reports()) {
      const { by, clusters } = run.facts.clusters;
      const isTold = by === "surgeon" && clusters >= results.threshold;
      const expected = isTold ? [`/clusters/clusters: ${clusters}`] : [];
      expect(clusterNumbers(results.settings, ""), `${name}, ${audience}`).toEqual(expected);
      for (const exhibit of results.exhibits) {
        if (exhibit.kind !== "flow") expect(clusterNumbers(exhibit.settings, ""), name).toEqual([]);
      }
    }
    const told = (await reports()).map(({ run }) => run.facts.clusters.by);
    expect(told).toEqual(expect.arrayContaining(["patient", "surgeon"]));
  });

  it("does not say in its log which hidden count is the small one", async () => {
    const acts = new Set((await reports()).flatMap(({ results }) => results.log.map(({ act }) => act)));
    expect([...acts].filter((act) => /hidden/.test(act))).toEqual(["hidden"]);
  });
});
