import { expect, it } from "vitest";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { countsFromTable } from "../../src/survival/counts-from-table.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import { logRankTest } from "../../src/survival/log-rank-test.ts";
import { expectPrinted } from "../reference/record.ts";

it("prints what the doc comments of curves, tests and counts promise", () => {
  const counts = countsByTime({ exit: [1, 2, 2, 3, 5], event: [1, 1, 0, 1, 0] });
  expectPrinted(kaplanMeier(counts).groups[0]?.survival ?? [], [0.8, 0.6, 0.3, 0.3], 12);
  expectPrinted([...(counts.cells[0]?.atRisk ?? [])], [5, 4, 2, 1], 0);

  const group = { codes: [0, 0, 1, 1], labels: ["a", "b"] };
  const test = logRankTest(countsByTime({ exit: [1, 2, 3, 4], event: [1, 1, 1, 0], group }));
  expect(test).toMatchObject({ computed: true, degreesOfFreedom: 1 });
  expectPrinted([test.computed ? test.chiSquare : null], [2.88], 2);

  const table = countsFromTable([
    { tick: 3, events: [1], censored: 0 },
    { tick: 5, events: [0], censored: 2 },
  ]);
  expect([...(table.cells[0]?.atRisk ?? [])]).toEqual([3, 2]);
});
