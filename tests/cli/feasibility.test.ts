import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  differencePer1000,
  numberOption,
  ratioOption,
  risingYears,
  wholeNumber,
} from "../../src/cli/number-options.ts";
import { verdictLines } from "../../src/cli/verdict-lines.ts";

const ROOT = join(import.meta.dirname, "../..");
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "mantle-feasibility-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function feasibility(...args: string[]) {
  const out = join(folder, "page");
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [join(ROOT, "src/cli/mantle.js"), "feasibility", ...args, "--out", out],
    { cwd: ROOT, encoding: "utf8", env: { ...process.env, NO_COLOR: "1" } },
  );
  return { status, stdout, stderr, out };
}

describe("mantle feasibility", () => {
  it("prints all steps in 100 columns and 40 lines, and writes the page, from a descriptor alone", () => {
    const { status, stdout, stderr, out } = feasibility("data/demo");
    expect(stderr).toBe("");
    expect(status).toBe(0);
    const lines = stdout.trimEnd().split("\n");
    expect(lines.length).toBeLessThanOrEqual(40);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(100);
    expect(lines[0]).toBe("Which steps can be asked about aseptic loosening");
    expect(stdout).toMatch(/tibia before femur +cannot be compared +fewer than 10 %, or nobody, are in/);
    expect(lines.slice(-4)).toEqual([
      "what matters: a ratio of 2 (the default: nobody said; --ratio or --per1000 sets it)",
      "comparisons that share one chance of a false alarm: 13 (--comparisons sets it)",
      "a study's own page uses what its plan declares: difference that matters, comparisons, years",
      join(out, "index.html"),
    ]);
    const page = readFileSync(join(out, "index.html"), "utf8");
    expect(page).toContain("INVENTED");
    // Nothing of the machine.
    expect(page).not.toContain(ROOT);
    expect(existsSync(join(out, "tables", "verdicts-1.csv"))).toBe(true);
  });

  it("takes another outcome, difference and periods", () => {
    const { stdout, out } = feasibility(
      ...["data/demo", "--outcome", "any", "--per1000", "15", "--comparisons", "1", "--periods", "5"],
    );
    expect(stdout).toContain("revision for any reason");
    expect(stdout).toContain("what matters: 15 per 1,000 at 10 years (as asked)\n");
    expect(stdout).toContain("false alarm: 1 (");
    expect(existsSync(join(out, "tables", "periods-1.csv"))).toBe(true);
  });

  it("refuses in words what cannot be asked", () => {
    const { status, stdout, stderr } = feasibility("data/demo", "--outcome", "rust", "--ratio", "3");
    expect(status).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toMatch(/^--outcome: the dictionary does not know "rust"; it lists "any", "infection"/);
    expect(stderr).not.toMatch(/\n\s+at .*:\d+|fault in Mantle/);
  });

  it("refuses numbers that are no difference or no count in words, before any plan is made", () => {
    expect([ratioOption("--ratio", "0.5"), wholeNumber("--comparisons", "3")]).toEqual([0.5, 3]);
    expect(differencePer1000("--per1000", "2.5")).toBe(2.5);
    for (const [option, text, words] of [
      ["--ratio", "1", /^--ratio: a ratio of 1 is no difference/],
      ["--comparisons", "2.5", /^--comparisons: write a whole number from 1 up/],
      ["--per1000", "2000", /^--per1000: write a number below 1000/],
    ] as const) {
      const { status, stderr } = feasibility("data/demo", option, text);
      expect(status).toBe(2);
      expect(stderr).toMatch(words);
    }
  });

  it("refuses surgeons as a stratum, and says what it took where nobody said what matters", () => {
    const refused = feasibility("data/demo", "--stratum", "role:surgeon");
    expect(refused.status).toBe(2);
    expect(refused.stdout).toBe("");
    expect(refused.stderr).toMatch(/^feasibility: --stratum: field "surgeon" has the role "surgeon"/);
    const unknown = feasibility("data/demo", "--stratum", "role:centr", "fixaton");
    expect(unknown.stderr).toMatch(
      / {2}--stratum: "role:centr" names no role; did you mean "role:centre"\?\n/,
    );
    expect(unknown.stderr).toMatch(/ {2}--stratum: "fixaton" is no field .*; did you mean "fixation"\?\n/);
    const reasonIn = (...args: string[]) => {
      const page = readFileSync(join(feasibility("data/demo", ...args).out, "index.html"), "utf8");
      return /What matters: a ratio of \d+ \(([^)]*)\)/.exec(page)?.[1];
    };
    expect(reasonIn()).toBe("taken where nobody says what matters");
    expect(reasonIn("--ratio", "3")).toBe("as asked on the command line");
  });

  it("takes numbers above 0 and years that rise", () => {
    expect(numberOption("--ratio", "1.5")).toBe(1.5);
    expect(risingYears("--periods", "3, 5")).toEqual([3, 5]);
    for (const text of ["-2", "0", "two", "1e3", ""]) {
      expect(() => numberOption("--ratio", text)).toThrow(/--ratio: write a number above 0/);
    }
    expect(() => risingYears("--periods", "5,3")).toThrow(/rising numbers of years/);
  });

  it("refuses an export that records no step", () => {
    const { status, stderr } = feasibility("data/mgus2");
    expect(status).toBe(2);
    expect(stderr).toMatch(/records no technique step/);
  });
});

describe("verdictLines()", () => {
  it("wraps at words, cuts words that are too long, and stays within 100 columns", () => {
    const text = (words: string) => ({ text: words, values: [], hidden: false });
    const lines = verdictLines([
      {
        kind: "table",
        id: "verdicts-1",
        title: "Which steps",
        columns: ["step", "verdict", "reason", "smallest", "years"].map((id) => ({
          id,
          label: id,
          align: "start" as const,
        })),
        rows: [
          {
            label: "a".repeat(30),
            heading: false,
            indent: 0,
            cells: [
              text("can be compared"),
              text("one two ".repeat(12).trim()),
              text("1.50"),
              text("over 100"),
            ],
          },
        ],
        notes: [],
        settings: {},
      },
    ]);
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(100);
    expect(lines.join("\n").match(/one two/g)?.length).toBeGreaterThan(6);
    expect(lines.join("").match(/a/g)?.length).toBeGreaterThanOrEqual(30);
  });
});
