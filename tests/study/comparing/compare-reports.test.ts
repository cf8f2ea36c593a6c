import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { differenceLines } from "../../../src/cli/difference-lines.ts";
import { compareReports } from "../../../src/study/comparing/compare-reports.ts";
import { reportIndex } from "../../../src/study/making/report-index.ts";
import { PLAN } from "../small-export.ts";

const folder = (files: Record<string, string>) =>
  new Map(Object.entries(files).map(([path, text]) => [path, new TextEncoder().encode(text)]));
const report = (results: object) => folder({ "results.json": JSON.stringify(results) });
/** What two results differ in, without the line on the file's bytes. */
const told = (one: object, two: object) =>
  compareReports(report(one), report(two))
    .filter(({ part }) => part !== "files")
    .map(({ about, what }) => `${about}: ${what}`);

const cell = (text: string, hidden = false, values: number[] = []) => ({ text, values, hidden });
const table = (cells: object[], more: object = {}) => ({
  kind: "table",
  id: "rates",
  title: "Rates",
  columns: [{ label: "Group" }, { label: "Events" }, { label: "Rate" }],
  rows: [{ label: "with", heading: false, cells }],
  notes: [],
  settings: {},
  ...more,
});
const results = (exhibit: object, more: object = {}) => ({
  audience: "committee",
  exhibits: [exhibit],
  ...more,
});

describe("compareReports()", () => {
  it("finds nothing between folders of the same bytes", () => {
    expect(compareReports(folder({ "a.csv": "1" }), folder({ "a.csv": "1" }))).toEqual([]);
  });

  it("names files that only one of them has, and those with other bytes", () => {
    expect(compareReports(folder({ a: "1", c: "1" }), folder({ b: "1", c: "2" }))).toEqual([
      { part: "files", about: "a", what: "only in the first" },
      { part: "files", about: "b", what: "only in the second" },
      { part: "files", about: "c", what: "other bytes" },
    ]);
  });

  it("tells what went in: versions, files, plan, lock, settings", () => {
    const one = {
      mantle: "1.0.0",
      audience: "committee",
      hashes: { export: "a".repeat(64), descriptor: "d", lock: "l", plan: "p", notebook: "n" },
      plan: PLAN,
      planLock: { state: "not locked" },
      settings: { years: [5, 10], clusters: { by: "surgeon", reason: "r", clusters: 24 } },
    };
    const two = {
      mantle: "1.1.0",
      audience: "committee",
      hashes: { export: "b".repeat(64), descriptor: "d", lock: "m", plan: "q", notebook: "o" },
      plan: { ...PLAN, years: [5] },
      planLock: { state: "as locked" },
      settings: { years: [5], clusters: { by: "patient", reason: "r" } },
    };
    expect(told(one, two)).toEqual([
      "Version of Mantle: 1.0.0 → 1.1.0",
      "Export: another file (SHA-256 aaaaaaaaaaaa… → SHA-256 bbbbbbbbbbbb…)",
      "Lock file of the packages: another file (SHA-256 l… → SHA-256 m…)",
      "Plan: Years: 5, 10 → 5",
      "Notebook: another file (SHA-256 n… → SHA-256 o…)",
      "Lock of the plan: not locked → as locked",
      "Settings: Clusters, by: “surgeon” → “patient”",
    ]);
  });

  it("tells a notebook's text from its plan", () => {
    const hashes = (plan: string) => ({ hashes: { plan, notebook: plan } });
    const sameText = { hashes: { plan: "q", notebook: "p" }, plan: PLAN };
    expect(told({ ...hashes("p"), plan: PLAN }, sameText)).toEqual([
      "results.json: differs in what no table or figure shows",
    ]);
    expect(told({ ...hashes("p"), plan: PLAN }, { ...hashes("q"), plan: PLAN })).toEqual([
      "Notebook: other text around the same plan: comments, layout or sections of its own",
    ]);
    expect(told(hashes("p"), hashes("q"))).toEqual([
      "Plan: not the same",
      "Notebook: another file (SHA-256 p… → SHA-256 q…)",
    ]);
  });

  it("compares every line of one label, by their order", () => {
    const line = (last: number) => ({ label: "with", x: [0, 1], y: [0, last], low: [0, 0], high: [1, 1] });
    const lines = (...lasts: number[]) => ({
      kind: "lines",
      id: "hazard",
      title: "Hazard",
      across: "Year",
      lines: lasts.map(line),
    });
    expect(told(results(lines(1, 2)), results(lines(1, 3)))).toEqual([
      "Lines “Hazard”: line of “with (2)”: another from year 1 on",
    ]);
    expect(told(results(lines(1, 2)), results(lines(1)))).toEqual([
      "Lines “Hazard”: line of “with (2)”: only in the first",
    ]);
  });

  it("tells which imported file is another, and that a report of an earlier version hashed none", () => {
    const of = (hashes: Readonly<Record<string, string>>) => ({
      imported: Object.entries(hashes).map(([file, hash]) => ({ file, hash })),
    });
    expect(told(of({ "a.ts": "1", "b.ts": "1" }), of({ "a.ts": "2", "b.ts": "1", "c.ts": "3" }))).toEqual([
      "Imported file a.ts: another file (SHA-256 1… → SHA-256 2…)",
      "Imported file c.ts: another file (not stated → SHA-256 3…)",
    ]);
    expect(told({}, of({}))).toEqual(["Files that the notebook imports: hashed in the second alone"]);
  });

  it("tells which cell moved, by title, row and column", () => {
    const [one, two] = [table([cell("12"), cell("0.3")]), table([cell("13"), cell("0.3")])];
    expect(told(results(one), results(two))).toEqual(["Table “Rates”: “with”, “Events”: 12 → 13"]);
  });

  it("never tells from one report what the other hides", () => {
    const [one, two] = [table([cell("hidden", true), cell("")]), table([cell("7", false, [7]), cell("")])];
    const lines = [...told(results(one), results(two)), ...told(results(two), results(one))];
    expect(lines).toEqual([
      "Table “Rates”: “with”, “Events”: hidden in the first alone",
      "Table “Rates”: “with”, “Events”: hidden in the second alone",
    ]);
  });

  it("tells rows, columns and tables that only one has without their numbers", () => {
    const row = { label: "without", heading: false, cells: [cell("9"), cell("8")] };
    const one = table([cell("12"), cell("0.3")]);
    expect(told(results(one), results({ ...one, rows: [...one.rows, row] }))).toEqual([
      "Table “Rates”: “without”: only in the second",
    ]);
    expect(told(results(one), results(table([cell("12")])))).toEqual([
      "Table “Rates”: “with”, “Rate”: only in the first",
    ]);
    expect(told(results(one), { audience: "committee", exhibits: [] })).toEqual([
      "Table “Rates”: only in the first",
    ]);
  });

  it("tells rows of one name apart by their heading, else by their order", () => {
    const rows = (last: string) => [
      { label: "0–3 years", heading: true, cells: [] },
      { label: "with", heading: false, cells: [cell("1")] },
      { label: "5 years", heading: true, cells: [] },
      { label: "with", heading: false, cells: [cell("2")] },
      { label: "with", heading: false, cells: [cell(last)] },
    ];
    const of = (last: string) => results({ ...table([]), rows: rows(last) });
    expect(told(of("3"), of("4"))).toEqual(["Table “Rates”: “5 years, with (2)”, “Events”: 3 → 4"]);
  });

  it("tells digits that are not printed to analysts of one report, and not between two kinds of reader", () => {
    const [one, two] = [table([cell("12", false, [12.01])]), table([cell("12", false, [12.02])])];
    expect(told(results(one), results(two))).toEqual([
      "Table “Rates”: “with”, “Events”: 12 in both, but not in the digits that are not printed",
    ]);
    const analyst = results(two, { audience: "analyst" });
    expect(told(results(one), analyst)[0]).toBe("Audience: committee → analyst");
  });

  it("tells where a curve begins to run otherwise, and what stands under it", () => {
    const curves = (last: number, atRisk: string) => ({
      kind: "curves",
      id: "net",
      title: "Net risk",
      timeUnit: { word: "day", perYear: 365.25 },
      years: [5],
      curves: [
        { label: "with", time: [0, 700], value: [0, last], low: [0, null], high: [0, null], drawnTo: 1000 },
      ],
      landmarks: [{ label: "with", atRisk: [cell(atRisk)], events: [cell("5")], censored: [cell("1")] }],
    });
    expect(told(results(curves(0.1, "90")), results(curves(0.2, "91")))).toEqual([
      "Curves “Net risk”: “with, 5 years”, “at risk”: 90 → 91",
      "Curves “Net risk”: line of “with”: another from day 700 on",
    ]);
  });

  it("says that an exhibit differs even where it cannot read it", () => {
    const of = (anything: unknown) => results({ kind: "globe", id: "x", title: "New", anything });
    expect(told(of(1), of(2))).toEqual([
      "Exhibit “New”: arranged otherwise, or in digits that are not printed",
    ]);
    expect(told({ other: 1 }, { other: 2 })).toEqual([
      "results.json: differs in what no table or figure shows",
    ]);
  });

  it("reports other bytes with the same values", () => {
    const [one, two] = [folder({ "results.json": '{"a":1}' }), folder({ "results.json": '{ "a": 1 }' })];
    expect(compareReports(one, two)[0]).toMatchObject({ what: "same values, other layout" });
  });

  it("says which report's results cannot be read", () => {
    const [good, bad] = [folder({ "results.json": "{}" }), folder({ "results.json": "{cut of" })];
    expect(() => compareReports(good, bad)).toThrow(/results\.json of the second report: holds no results/);
    expect(() => compareReports(bad, good)).toThrow(/of the first report/);
  });

  it("reads every committed report, and shows no number of one that the other hides", () => {
    const reports = join(import.meta.dirname, "../../../reports");
    const names = readdirSync(reports).filter((name) => !name.includes("."));
    expect(names).toContain("verification");
    for (const name of names) {
      const path = join(reports, name, "results.json");
      const whole = JSON.parse(readFileSync(path, "utf8"));
      const without = { ...whole, exhibits: [] };
      expect(told(whole, without)).toHaveLength(whole.exhibits.length);
      const spoilt = JSON.parse(JSON.stringify(whole), (key, value) =>
        key === "text" && value !== "" ? `${value}9` : value,
      );
      expect(told(whole, spoilt).filter((line) => /arranged otherwise/.test(line))).toEqual([]);
    }
  });
});

describe("differenceLines()", () => {
  it("gathers lines by part and subject, and cuts long lists", () => {
    const moved = Array.from({ length: 20 }, (_, at) => ({
      part: "what came out" as const,
      about: "Table “Rates”",
      what: `line ${at}`,
    }));
    const lines = differenceLines([
      ...moved,
      { part: "files", about: "a.csv", what: "other bytes" },
      { part: "files", about: "b.csv", what: "other bytes" },
    ]);
    expect(lines.slice(0, 4)).toEqual([
      "What went in",
      "  is the same, as far as the two reports tell",
      "What came out",
      "  Table “Rates”",
    ]);
    expect(lines).toContain("    … and 12 more");
    expect(lines.slice(-2)).toEqual(["Files", "  other bytes: a.csv, b.csv"]);
  });
});

describe("reportIndex()", () => {
  it("names the file that holds no results", () => {
    for (const text of ["{cut of", "null", "[]", ""]) {
      expect(() => reportIndex(new Map([["reports/a/results.json", text]]))).toThrow(
        /^reports\/a\/results\.json: holds no results/,
      );
    }
  });

  it("leaves blank what an older version did not write", () => {
    expect(reportIndex(new Map([["a", '{"id":"a-report","title":"A <title>"}']]))).toContain(
      "A &lt;title&gt;",
    );
  });
});
