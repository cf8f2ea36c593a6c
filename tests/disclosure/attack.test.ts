import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import { AUDIENCES, type Audience } from "../../src/disclosure/audience.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Exhibit } from "../../src/disclosure/exhibit.ts";
import { attackerOf, couldBeOther, solveSums } from "./attacker.ts";
import { count, countCell, crossTable, flow, shareCell, table } from "./exhibits.ts";

const GUARDED: readonly Audience[] = AUDIENCES.filter((audience) => audience !== "analyst");
const SEED = 20260;

/** Infection, loosening, not revised by centre: one knee is one person (invented cases). */
const CENTRES = crossTable("outcome", { East: [3, 0, 4], North: [1, 9, 70], South: [6, 8, 61] }, [
  "infection",
  "loosening",
  "not revised",
]);

function expectSafe(exhibits: readonly Exhibit[], audience: Audience, what: string): number {
  const attacker = attackerOf(exhibits, disclose(exhibits, audience));
  const solution = solveSums(attacker);
  expect(
    attacker.small.filter((key) => solution.fixed.has(key)),
    `${what}, ${audience}: fixed by sums`,
  ).toEqual([]);
  const single = attacker.small.filter((key) => !couldBeOther(attacker, solution, key));
  expect(single, `${what}, ${audience}: no other whole number`).toEqual([]);
  return attacker.small.length;
}

/** A reader of both circles' copies: what either shows is known, and the narrower one's small counts are guarded. */
function expectSafeTogether(exhibits: readonly Exhibit[], what: string): void {
  const [external, committee] = GUARDED.map((audience) => attackerOf(exhibits, disclose(exhibits, audience)));
  if (external === undefined || committee === undefined) throw new Error("two circles were expected");
  const both = { ...committee, known: new Set([...committee.known, ...external.known]) };
  const { fixed } = solveSums(both);
  expect(
    committee.small.filter((key) => fixed.has(key)),
    `${what}, both copies`,
  ).toEqual([]);
}

describe("a reader who adds, subtracts and divides", () => {
  it("gets no small count back from centres by outcome", () => {
    for (const audience of GUARDED) expect(expectSafe([CENTRES], audience, "centres")).toBeGreaterThan(2);
  });

  it("would get them all back where only the small cells are hidden", () => {
    // The attack itself must be able to succeed.
    const attacker = attackerOf([CENTRES], disclose([CENTRES], "committee"));
    const smallOnly = new Set([...attacker.truth.keys()].filter((key) => !attacker.small.includes(key)));
    const { fixed } = solveSums({ ...attacker, known: smallOnly });
    for (const cell of ["North/infection", "East/infection", "East/not revised"]) {
      expect(fixed).toContain(`outcome/${cell}`);
    }
  });

  it("gets nothing back from a second table that differs by the hidden cell", () => {
    const without = table(
      "without North",
      [[shareCell(count("outcome/infection outside North", 9), count("outcome/outside North", 82))]],
      [
        {
          total: count("outcome/infection", 10),
          parts: [count("outcome/North/infection", 1), count("outcome/infection outside North", 9)],
        },
        {
          total: count("outcome", 162),
          parts: [count("outcome/North", 80), count("outcome/outside North", 82)],
        },
      ],
    );
    for (const audience of GUARDED) expectSafe([CENTRES, without], audience, "two tables");
  });

  it("gets no small count back from 200 random reports of one to three tables", () => {
    const random = randomStreams(SEED).stream("reports");
    let small = 0;
    for (let report = 0; report < 200; report++) {
      const rows = 2 + random.below(3);
      const columns = Array.from({ length: 2 + random.below(3) }, (_, at) => `c${at}`);
      const unit = () => (random.uniform() < 0.35 ? random.below(8) : random.below(60));
      const drawn = Array.from({ length: rows }, () => columns.map(unit));
      const named = Object.fromEntries(drawn.map((cells, row) => [`r${row}`, cells]));
      const exhibits: Exhibit[] = [
        crossTable("t", named, columns, random.uniform() < 0.5 ? shareCell : (part) => countCell(part)),
      ];
      if (random.uniform() < 0.6) exhibits.push(firstColumns(drawn, columns));
      if (random.uniform() < 0.4) exhibits.push(flowInto(drawn, random.below(12)));
      for (const audience of GUARDED)
        small += expectSafe(exhibits, audience, `seed ${SEED}, report ${report}`);
      expectSafeTogether(exhibits, `seed ${SEED}, report ${report}`);
    }
    expect(small).toBeGreaterThan(1000);
  });
});

/** A second table over the first two columns, with a row total of its own. */
function firstColumns(drawn: readonly (readonly number[])[], columns: readonly string[]): Exhibit {
  const [first = "", second = ""] = columns;
  const rows = drawn.map((cells, row) => {
    const parts = [count(`t/r${row}/${first}`, cells[0] ?? 0), count(`t/r${row}/${second}`, cells[1] ?? 0)];
    const total = count(`t/r${row}/both`, (cells[0] ?? 0) + (cells[1] ?? 0));
    return { total, parts };
  });
  return table(
    "both",
    rows.map(({ total, parts }) => [...parts.map((part) => shareCell(part, total)), countCell(total)]),
    rows,
  );
}

/** All cases of the table after one removal, divided into its rows. */
function flowInto(drawn: readonly (readonly number[])[], removed: number): Exhibit {
  const sizes = drawn.map((cells) => cells.reduce((sum, units) => sum + units, 0));
  const all = sizes.reduce((sum, units) => sum + units, 0);
  return flow(
    [
      {
        label: "exported",
        units: count("exported", all + removed),
        removed: [{ label: "not wanted", units: count("removed", removed) }],
      },
      { label: "compared", units: count("t", all) },
    ],
    sizes.map((units, row) => ({ label: `r${row}`, units: count(`t/r${row}`, units) })),
  );
}
