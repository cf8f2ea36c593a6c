import { describe, expect, it } from "vitest";
import { RECORD } from "../../src/study/checklists/record.ts";
import { STROBE } from "../../src/study/checklists/strobe.ts";
import { runStudy } from "../../src/study/run.ts";
import { smallStudy } from "./small-export.ts";

const items = (list: readonly { readonly item: string }[]) => list.map(({ item }) => item);
const parts = (item: string, letters: string) => [...letters].map((letter) => `${item}${letter}`);
const whole = (from: number, to: number) =>
  Array.from({ length: to - from + 1 }, (_, at) => String(from + at));

describe("the reporting checklists", () => {
  it("have the 22 items of the published list for cohorts, with their parts, in order", () => {
    // published: von Elm and others 2007, table of the checklist
    expect(items(STROBE)).toEqual([
      ...parts("1", "ab"),
      ...whole(2, 5),
      ...parts("6", "ab"),
      ...whole(7, 11),
      ...parts("12", "abcde"),
      ...parts("13", "abc"),
      ...parts("14", "abc"),
      "15",
      ...parts("16", "abc"),
      ...whole(17, 22),
    ]);
  });

  it("have the 13 items that the published list for routinely collected data adds", () => {
    // published: Benchimol and others 2015, table 1
    expect(items(RECORD)).toEqual([
      "1.1",
      "1.2",
      "1.3",
      "6.1",
      "6.2",
      "6.3",
      "7.1",
      "12.1",
      "12.2",
      "12.3",
      "13.1",
      "19.1",
      "22.1",
    ]);
  });

  it("leave what only the authors can write as a gap, and what the plan lacks too", async () => {
    const { adjusters: _none, ...plan } = smallStudy().study.plan;
    const { facts } = await runStudy({ kind: "study", plan }, smallStudy().source);
    const gaps = [...STROBE, ...RECORD]
      .filter(({ answer }) => "gap" in answer(facts))
      .map(({ item }) => item);
    expect(gaps).toEqual(expect.arrayContaining(["1a", "2", "16a", "19", "20", "21", "6.2", "12.3"]));
    expect(gaps).not.toContain("13c");
  });
});
