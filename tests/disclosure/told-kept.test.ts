import { expect, it } from "vitest";
import { cellsOf } from "../../src/disclosure/cleared-cells.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Cell, Count } from "../../src/disclosure/exhibit.ts";
import { count, countCell, table } from "./exhibits.ts";

it("results.json keeps back what a level of one surgeon keeps back, though it follows by subtraction", () => {
  const [all, one, other] = [count("done/all", 220), count("done/one", 120), count("done/other", 100)];
  const percent = (done: Count, surgeons: number): Cell => ({
    kind: "number",
    value: done.units / 4,
    decimals: 0,
    suffix: " %",
    restsOn: [done, count(`surgeons/${done.key}`, surgeons)],
  });
  const cleared = disclose(
    [
      table(
        "t",
        [[countCell(all)], [percent(one, 1)], [percent(other, 11)]],
        [{ total: all, parts: [one, other] }],
      ),
    ],
    "committee",
  );
  expect(cleared.exhibits.flatMap(cellsOf).map(({ text }) => text)).toEqual(["220", "hidden", "25 %"]);
  const told = new Map(cleared.told?.counts.map(({ key, low }) => [key, low]));
  expect([told.get("done/all"), told.get("done/one"), told.get("surgeons/done/one")]).toEqual([
    220,
    undefined,
    undefined,
  ]);
});
