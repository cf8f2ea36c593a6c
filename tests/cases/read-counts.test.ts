import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { UsageError } from "../../src/base/errors.ts";
import { readCounts } from "../../src/cases/read-counts.ts";
import { CountsError } from "../../src/cases/read-counts-error.ts";
import { COUNTS_FINDING_CODES } from "../../src/cases/read-counts-messages.ts";

type Json = Record<string, unknown>;

const folder = mkdtempSync(join(tmpdir(), "counts-test-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const HEADER = "group,time,at_risk,loosenings,deaths,censored,entered";
/** Group a: three knees, one more entering on day 4. Group b: two knees. */
const SOUND = [HEADER, "a,3,3,1,0,0,0", "a,4,2,0,0,1,1", "a,9,2,0,1,1,0", "b,5,2,0,0,2,0"];

const DESCRIPTOR: Json = {
  kind: "counts by time",
  title: "Test centre",
  source: "by hand",
  file: "counts.csv",
  timeUnit: "day",
  causes: [
    { label: "loosening", column: "loosenings", event: true },
    { label: "death", column: "deaths", death: true },
  ],
  exposure: "a step",
  groups: [
    { label: "a", cases: 4 },
    { label: "b", cases: 2 },
  ],
  unit: { one: "knee", many: "knees" },
  mostPerPerson: 2,
  eventWords: { one: "revision", many: "revisions" },
  revisionCapture: "national",
  deathCapture: "national",
  invented: true,
  stamp: "INVENTED",
};

function write(lines: readonly string[] | Uint8Array, changes: Json = {}): string {
  const base = mkdtempSync(join(folder, "file-"));
  writeFileSync(join(base, "counts.csv"), lines instanceof Uint8Array ? lines : `${lines.join("\n")}\n`);
  writeFileSync(join(base, "counts.json"), JSON.stringify({ ...DESCRIPTOR, ...changes }));
  return base;
}

function thrownBy(action: () => unknown): unknown {
  try {
    return action();
  } catch (error) {
    return error;
  }
}

function refused(lines: readonly string[] | Uint8Array, changes: Json = {}): CountsError {
  const error = thrownBy(() => readCounts(write(lines, changes)));
  expect(error).toBeInstanceOf(CountsError);
  return error as CountsError;
}

/** "code line field" of every finding's examples. */
function told({ findings }: CountsError): string[] {
  return findings.groups.flatMap((group) =>
    group.first.map(({ code, line, field }) =>
      [code, line, field].filter((part) => part !== undefined).join(" "),
    ),
  );
}

/** The sound file with one line in place of another. */
const withLine = (line: number, text: string) => SOUND.map((old, at) => (at === line - 1 ? text : old));

describe("readCounts()", () => {
  it("reads rows in the order of the file, from the folder or the descriptor itself", () => {
    const path = write(SOUND);
    const { rows, findings } = readCounts(path);
    expect(rows.map(({ group, tick, atRisk, events }) => [group, tick, atRisk, events])).toEqual([
      ["a", 3, 3, [1, 0]],
      ["a", 4, 2, [0, 0]],
      ["a", 9, 2, [0, 1]],
      ["b", 5, 2, [0, 0]],
    ]);
    expect(findings.errors).toBe(0);
    expect(readCounts(join(path, "counts.json")).rows).toEqual(rows);
  });

  it("takes columns in any order, quotes, mixed line ends, and a file without entries", () => {
    const text =
      '"censored",deaths,at_risk,time,loosenings,group\r\n0,0,2,3,1,"a, with"\n1,0,1,5,0,"a, with"\r\n';
    const { rows } = readCounts(write(Buffer.from(text), { groups: [{ label: "a, with", cases: 2 }] }));
    expect(rows.map(({ group, atRisk, entered }) => [group, atRisk, entered])).toEqual([
      ["a, with", 2, 0],
      ["a, with", 1, 0],
    ]);
  });

  it("lets rows of several groups and strata alternate", () => {
    const lines = [
      "group,stratum,time,at_risk,loosenings,deaths,censored",
      "a,women,3,2,1,0,0",
      "a,men,2,1,0,1,0",
      "a,women,7,1,0,0,1",
      "b,men,1,1,0,0,1",
    ];
    const groups = [
      { label: "a", cases: 3 },
      { label: "b", cases: 1 },
    ];
    const { rows } = readCounts(write(lines, { groups, strata: ["women", "men"] }));
    expect(rows.map(({ stratum }) => stratum)).toEqual(["women", "men", "women", "men"]);
  });

  it("warns of a column that nothing describes, and reads on", () => {
    const { findings } = readCounts(write(SOUND.map((line, at) => `${line},${at === 0 ? "note" : "x"}`)));
    expect(findings.groups.map(({ code, severity }) => [code, severity])).toEqual([
      ["column-not-described", "warning"],
    ]);
  });

  const faults: [string, readonly string[], readonly string[], Json?][] = [
    [
      "a column that is missing",
      SOUND.map((line) => line.replace(/,[^,]*,[^,]*$/, "")),
      ["counts-column-missing censored"],
    ],
    ["strata without their column", SOUND, ["counts-stratum-column-missing stratum"], { strata: ["x"] }],
    [
      "a stratum column without strata",
      SOUND.map((line, at) => `${line},${at === 0 ? "stratum" : "x"}`),
      ["counts-strata-not-listed stratum"],
    ],
    [
      "a count that is blank, signed, broken or too large for exact sums",
      [HEADER, "a,3,,1,0,0,0", "a,4,-2,0,0,1.5,1", "a,9,2,9007199254740993,1,1,0", "b,5,2,0,0,2, 0"],
      [
        "count-not-whole 2 at_risk",
        "count-not-whole 3 at_risk",
        "count-not-whole 3 censored",
        "count-not-whole 4 loosenings",
        "count-not-whole 5 entered",
      ],
    ],
    [
      "a group that the descriptor does not list",
      withLine(5, "c,5,2,0,0,2,0"),
      ["counts-group-unknown 5 group"],
    ],
    [
      "a stratum that the descriptor does not list",
      SOUND.map((line, at) => `${line},${at === 0 ? "stratum" : at === 4 ? "y" : "x"}`),
      ["counts-stratum-unknown 5 stratum"],
      { strata: ["x"] },
    ],
    ["times that repeat", withLine(3, "a,3,2,0,0,1,1"), ["counts-time-not-ascending 3 time"]],
    ["times that fall", withLine(4, "a,2,2,0,1,1,0"), ["counts-time-not-ascending 4 time"]],
    [
      "days that are called months",
      withLine(5, "b,5000,2,0,0,2,0"),
      ["counts-time-impossible 5 time"],
      {
        timeUnit: "month",
      },
    ],
    [
      "at risk that does not follow from the row before",
      withLine(4, "a,9,3,0,1,2,0"),
      ["counts-at-risk-broken 4 at_risk", "counts-cases-differ cases"],
    ],
    [
      "more leaving than are at risk",
      withLine(5, "b,5,2,0,0,3,0"),
      ["counts-more-leave 5 at_risk", "counts-cases-differ cases"],
    ],
    [
      "a last row that leaves somebody behind",
      withLine(5, "b,5,2,0,0,1,0"),
      ["counts-do-not-empty 5 at_risk", "counts-cases-differ cases"],
    ],
    [
      "cases that differ from the descriptor, a group without rows among them",
      SOUND.slice(0, 4),
      ["counts-cases-differ cases"],
    ],
  ];
  it.each(faults)("refuses %s, with line and field", (_what, lines, expected, changes = {}) => {
    expect(told(refused(lines, changes)).sort()).toEqual([...expected].sort());
  });

  it("finds a cause that the query forgot: its rows are at risk and then nowhere", () => {
    const without = SOUND.map((line) =>
      line
        .split(",")
        .filter((_cell, at) => at !== 4)
        .join(","),
    );
    const error = refused(without, {
      causes: [{ label: "loosening", column: "loosenings", event: true }],
    });
    expect(told(error)).toEqual(["counts-do-not-empty 4 at_risk", "counts-cases-differ cases"]);
  });

  it.each([
    ["an empty file", Buffer.from(""), "file-empty"],
    ["a header alone", Buffer.from(`${HEADER}\n`), "no-records"],
    ["a ragged row", Buffer.from(`${HEADER}\na,3,1\n`), "ragged-record 2"],
    ["another delimiter", Buffer.from(SOUND.join("\n").replaceAll(",", ";")), "wrong-delimiter 1"],
    ["bytes that are not UTF-8", Buffer.from([0x61, 0x2c, 0xff, 0x0a]), "encoding-not-utf8 1"],
  ])("refuses %s", (_what, bytes, expected) => {
    expect(told(refused(bytes))).toContain(expected);
  });

  it("has a sentence for every finding, and no sentence repeats a cell", () => {
    const secret = "Zq7Xw";
    const seen = new Set<string>();
    for (const [, lines, , changes = {}] of faults) {
      const error = refused(lines, changes);
      for (const { code } of error.findings.groups) seen.add(code);
      for (const code of COUNTS_FINDING_CODES) expect(error.message).not.toContain(code);
    }
    expect([...seen].sort()).toEqual([...COUNTS_FINDING_CODES].sort());
    const spoilt = refused([HEADER, `${secret},${secret},${secret},${secret},1,1,1`]);
    expect(spoilt.message).not.toContain(secret);
  });

  const descriptors: [string, Json, RegExp][] = [
    ["no event asked about", { causes: [{ label: "x", column: "loosenings" }] }, /0 causes have "event"/],
    [
      "two labels alike",
      {
        groups: [
          { label: "a", cases: 1 },
          { label: "a", cases: 1 },
        ],
      },
      /groups\[1\]\.label/,
    ],
    [
      "a cause in a column of another use",
      { causes: [{ label: "x", column: "censored", event: true }] },
      /causes\[0\]\.column/,
    ],
    ["a file elsewhere", { file: "../counts.csv" }, /own folder/],
    ["an unknown time unit", { timeUnit: "week" }, /timeUnit: .*day, month, year/],
    ["an unknown key", { sourse: "x" }, /sourse/],
    ["invented counts without a stamp", { stamp: undefined }, /stamp: missing/],
    ["a data cut that is no day", { dataCut: "2024-02-30" }, /dataCut/],
    ["cases that are no count", { groups: [{ label: "a", cases: 1.5 }] }, /groups\[0\]\.cases/],
    ["strata that repeat", { strata: ["x", "x"] }, /strata\[1\]/],
  ];
  it.each(descriptors)("refuses a descriptor with %s", (_what, changes, message) => {
    expect(() => readCounts(write(SOUND, changes))).toThrow(message);
  });

  it("names every problem of a descriptor at once", () => {
    const error = thrownBy(() => readCounts(write(SOUND, { stamp: undefined, dataCut: "soon" })));
    expect(String(error)).toMatch(/stamp[\s\S]*dataCut/);
  });

  it("refuses what cannot be opened or is no JSON", () => {
    expect(() => readCounts(join(folder, "nowhere"))).toThrow(UsageError);
    const path = join(folder, "broken.json");
    writeFileSync(path, "{");
    expect(() => readCounts(path)).toThrow(/not JSON/);
    const lone = write(SOUND);
    rmSync(join(lone, "counts.csv"));
    expect(() => readCounts(lone)).toThrow(/counts\.csv: cannot be opened/);
  });
});
