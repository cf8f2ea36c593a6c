import { describe, expect, it } from "vitest";
import { findingLog, joinFindings } from "../../src/base/finding-log.ts";

describe("findingLog()", () => {
  it("counts every finding and keeps the first three of each code and field", () => {
    const log = findingLog();
    for (let row = 1; row <= 4000; row += 1)
      log.add({ code: "not-a-date", severity: "error", row, field: "death" });
    log.add({ code: "not-a-date", severity: "error", row: 5, field: "revision" });
    const { groups, errors } = log.findings();
    expect(errors).toBe(4001);
    expect(groups.map(({ count }) => count)).toEqual([4000, 1]);
    expect(groups[0]?.first.map(({ row }) => row)).toEqual([1, 2, 3]);
  });

  it("lists errors before warnings before notes", () => {
    const log = findingLog();
    log.add({ code: "c", severity: "note" });
    log.add({ code: "b", severity: "warning" });
    log.add({ code: "a", severity: "error" });
    expect(log.findings().groups.map(({ code }) => code)).toEqual(["a", "b", "c"]);
  });
});

describe("joinFindings()", () => {
  it("adds the counts and keeps the order by weight", () => {
    const one = findingLog();
    one.add({ code: "w", severity: "warning" });
    const two = findingLog();
    two.add({ code: "e", severity: "error" });
    const joined = joinFindings(one.findings(), two.findings());
    expect([joined.errors, joined.warnings, joined.notes]).toEqual([1, 1, 0]);
    expect(joined.groups.map(({ code }) => code)).toEqual(["e", "w"]);
  });
});
