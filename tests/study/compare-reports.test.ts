import { describe, expect, it } from "vitest";
import { compareReports } from "../../src/study/compare-reports.ts";
import { reportIndex } from "../../src/study/report-index.ts";

const folder = (files: Record<string, string>) =>
  new Map(Object.entries(files).map(([path, text]) => [path, new TextEncoder().encode(text)]));

describe("compareReports()", () => {
  it("finds nothing between folders of the same bytes", () => {
    expect(compareReports(folder({ "a.csv": "1" }), folder({ "a.csv": "1" }))).toEqual([]);
  });

  it("names the value of results.json that differs, and both values", () => {
    const one = folder({ "results.json": '{"exhibits":[{"id":"x","rows":[1,2]}]}' });
    const two = folder({ "results.json": '{"exhibits":[{"id":"x","rows":[1,3]}]}' });
    expect(compareReports(one, two)).toEqual([
      { path: "results.json/exhibits/0/rows/1", what: "2 in the first, 3 in the second" },
    ]);
  });

  it("names files that only one of them has", () => {
    expect(compareReports(folder({ a: "1" }), folder({ b: "1" }))).toEqual([
      { path: "a", what: "only in the first" },
      { path: "b", what: "only in the second" },
    ]);
  });

  it("reports other bytes with the same values", () => {
    const differences = compareReports(
      folder({ "results.json": '{"a":1}' }),
      folder({ "results.json": '{ "a": 1 }' }),
    );
    expect(differences).toEqual([{ path: "results.json", what: "same values, other layout" }]);
  });

  it("says which report's results cannot be read", () => {
    const [good, bad] = [folder({ "results.json": "{}" }), folder({ "results.json": "{cut of" })];
    expect(() => compareReports(good, bad)).toThrow(/results\.json of the second report: holds no results/);
    expect(() => compareReports(bad, good)).toThrow(/of the first report/);
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
