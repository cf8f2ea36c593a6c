import { describe, expect, it } from "vitest";
import { compareReports } from "../../src/study/compare-reports.ts";

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
      folder({ "results.json": "[1]" }),
      folder({ "results.json": "[ 1 ]" }),
    );
    expect(differences).toEqual([{ path: "results.json", what: "same values, other layout" }]);
  });
});
