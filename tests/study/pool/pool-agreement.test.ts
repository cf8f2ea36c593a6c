import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { poolCounts } from "../../../src/study/pool/pool-counts.ts";
import { changed, descriptorOf, EXAMPLE, type Json } from "./pool-sources.ts";

function messageOf(action: () => unknown): string {
  try {
    action();
  } catch (error) {
    return String(error);
  }
  return "";
}

describe("poolCounts() on sources that do not fit together", () => {
  const [first = "", second = ""] = EXAMPLE;
  const causes = descriptorOf(second).causes as Json[];
  const differences: [string, Json, RegExp][] = [
    ["another time unit", { timeUnit: "day" }, /"Invented centre C2" \(counts\.csv\): time unit differs/],
    [
      "another event asked about",
      { causes: causes.map((cause, at) => ({ ...cause, event: at === 1 })) },
      /causes differs/,
    ],
    [
      "other causes",
      { causes: causes.map((cause) => ({ ...cause, label: `${cause.label} ` })) },
      /causes differs/,
    ],
    ["causes in another order", { causes: [...causes].reverse() }, /causes differs/],
    ["another exposure", { exposure: "Glove change" }, /exposure differs/],
    ["another unit", { unit: { one: "hip", many: "hips" } }, /unit of analysis differs/],
    ["real counts beside invented ones", { invented: false }, /invented counts cannot be added to real ones/],
  ];
  it.each(differences)("refuses %s", (_what, changes, message) => {
    expect(messageOf(() => poolCounts([first, changed(second, changes)]))).toMatch(message);
  });

  it("refuses other groups and other strata", () => {
    const groups = (descriptorOf(second).groups as Json[]).map((group, at) =>
      at === 0 ? { ...group, label: "cuff" } : group,
    );
    const renamed = changed(second, { groups }, (csv) => csv.replaceAll(/^tourniquet,/gm, "cuff,"));
    expect(messageOf(() => poolCounts([first, renamed]))).toMatch(/groups differs/);
    const strata = changed(second, { strata: ["x"] }, (csv) =>
      csv
        .trimEnd()
        .split("\n")
        .map((line, at) => `${line},${at === 0 ? "stratum" : "x"}`)
        .join("\n"),
    );
    expect(messageOf(() => poolCounts([first, strata]))).toMatch(/strata differs/);
  });

  it("names every disagreement at once", () => {
    const message = messageOf(() => poolCounts([first, changed(second, { timeUnit: "day", exposure: "x" })]));
    expect(message).toMatch(/time unit[\s\S]*exposure/);
  });

  it("refuses a file given twice, under another name as well", () => {
    expect(messageOf(() => poolCounts([first, join(first, "counts.json")]))).toMatch(/the same counts as/);
    expect(messageOf(() => poolCounts([first, changed(first, { title: "Another" })]))).toMatch(
      /the same counts as/,
    );
  });

  it("names the faults of every file that cannot be used", () => {
    const broken = (path: string) => changed(path, {}, (csv) => csv.replace(/,0,0,/, ",x,0,"));
    const message = messageOf(() => poolCounts([broken(first), second, broken(second)]));
    expect(message.match(/the counts cannot be used/g)).toHaveLength(2);
  });

  it("refuses a group in which no source has anybody, and no sources at all", () => {
    const groups = [...(descriptorOf(first).groups as Json[]), { label: "unknown cuff", cases: 0 }];
    expect(messageOf(() => poolCounts([changed(first, { groups })]))).toMatch(/anybody in "unknown cuff"/);
    expect(messageOf(() => poolCounts([]))).toMatch(/no counts to add/);
  });
});
