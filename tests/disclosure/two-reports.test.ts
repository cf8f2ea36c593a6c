import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import { AUDIENCES, type Audience } from "../../src/disclosure/audience.ts";
import type { ClearedExhibits } from "../../src/disclosure/cleared.ts";
import { cellsOf } from "../../src/disclosure/cleared-cells.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Exhibit } from "../../src/disclosure/exhibit.ts";
import { yearCell } from "../../src/disclosure/read-curve.ts";
import { attackerOf, solveSums } from "./attacker.ts";
import { count, countCell, crossTable, curve, curveExhibit, type Day, shareCell, table } from "./exhibits.ts";
import { heldOf, SAME } from "./held.ts";

const GUARDED: readonly Audience[] = AUDIENCES.filter((audience) => audience !== "analyst");
const SEED = 20261;

/** Marked numbers are the first report's: of the second they tell nothing. */
const withoutMarked = (cleared: ClearedExhibits): ClearedExhibits =>
  JSON.parse(JSON.stringify(cleared), (_key, value) =>
    value?.asBefore === true ? { ...value, hidden: true } : value,
  );

/** Small differences that both reports tell, by subtraction within each and then between them; and hidden counts that did not move. */
function taken(
  first: readonly Exhibit[],
  one: ClearedExhibits,
  second: readonly Exhibit[],
  two: ClearedExhibits,
) {
  const [before, after] = [attackerOf(first, one), attackerOf(second, withoutMarked(two))];
  const [fixedBefore, fixedAfter] = [solveSums(before).fixed, solveSums(after).fixed];
  const moved = (key: string) => Math.abs((after.truth.get(key) ?? 0) - (before.truth.get(key) ?? 0));
  const told = [...fixedAfter].filter(
    (key) => fixedBefore.has(key) && moved(key) > 0 && moved(key) < one.threshold,
  );
  const still = new Set([...after.truth.keys()].filter((key) => before.truth.has(key) && moved(key) === 0));
  const known = new Set([...still].filter((key) => before.known.has(key) || after.known.has(key)));
  const sums = [...before.sums, ...after.sums].filter((keys) => keys.every((key) => still.has(key)));
  const { fixed } = solveSums({ ...after, known, sums });
  return [
    ...told,
    ...after.small.filter((key) => still.has(key) && before.small.includes(key) && fixed.has(key)),
  ];
}

describe("two reports of random tables", () => {
  it("give no small difference away where the second is made for readers of the first", () => {
    const random = randomStreams(SEED).stream("pairs");
    const names = ["a", "b", "c"];
    let [alone, cells, hidden] = [0, 0, 0];
    for (let draw = 0; draw < 80; draw++) {
      const rows = Array.from({ length: 2 + random.below(2) }, () =>
        names.map(() => (random.uniform() < 0.25 ? random.below(9) : 10 + random.below(60))),
      );
      // Some cells gain a few, some many, most nothing.
      const later = rows.map((row) =>
        row.map((units) => {
          const chance = random.uniform();
          return units + (chance < 0.25 ? 1 + random.below(4) : chance < 0.35 ? 20 + random.below(20) : 0);
        }),
      );
      const exhibits = (drawn: number[][]): Exhibit[] => [
        crossTable("t", Object.fromEntries(drawn.map((row, at) => [`r${at}`, row])), names, (part, whole) =>
          draw % 2 === 0 ? shareCell(part, whole) : countCell(part),
        ),
      ];
      const [first, second] = [exhibits(rows), exhibits(later)];
      for (const audience of GUARDED) {
        const one = disclose(first, audience);
        if (taken(first, one, second, disclose(second, audience)).length > 0) alone += 1;
        const two = disclose(second, audience, { definition: SAME, readersHold: [heldOf(one)] });
        expect(taken(first, one, second, two), `seed ${SEED}, draw ${draw}, ${audience}`).toEqual([]);
        cells += two.exhibits.flatMap(cellsOf).length;
        hidden += two.exhibits.flatMap(cellsOf).filter((cell) => cell.hidden).length;
      }
    }
    // The attack itself must be able to succeed, and something must be left to read.
    expect(alone).toBeGreaterThan(60);
    expect(hidden / cells).toBeLessThan(0.6);
  });
});

describe("two reports with random curves", () => {
  it("tell no two numbers of events by the same time that differ by a few", () => {
    const random = randomStreams(SEED).stream("curves");
    let [alone, told] = [0, 0];
    for (let draw = 0; draw < 60; draw++) {
      const units = 200 + random.below(200);
      const first: Day[] = [];
      for (let tick = 20 + random.below(60); tick < 1900; tick += 15 + random.below(60)) {
        first.push([tick, random.below(3), random.below(3)]);
      }
      // Most draws gain a few events on days that had none or one; some are the same curve at other years.
      const gain = draw % 4 === 0 ? 0 : 1 + random.below(4);
      const days = new Set(Array.from({ length: gain }, () => random.below(first.length)));
      const second = first.map(
        ([tick, events, gone], at): Day => [tick, events + (days.has(at) ? 1 : 0), gone],
      );
      const years = (own: readonly number[]) => ({ years: own });
      const one = [curveExhibit([curve("loosening/x", units, first)], years([0, 1, 3, 5]))];
      const two = [
        curveExhibit(
          [curve("loosening/x", units + gain, second)],
          years(draw % 3 === 0 ? [0, 2, 4] : [0, 1, 3, 5]),
        ),
      ];
      for (const audience of GUARDED) {
        const before = disclose(one, audience);
        const beside = disclose(two, audience, { definition: SAME, readersHold: [heldOf(before)] });
        if (fewApart([first, before], [second, disclose(two, audience)]).length > 0) alone += 1;
        expect(
          fewApart([first, before], [second, beside]),
          `seed ${SEED}, draw ${draw}, ${audience}`,
        ).toEqual([]);
        told += eventsByTick(second, beside).size;
      }
    }
    // The attack itself must be able to succeed, and something must be left to read.
    expect(alone).toBeGreaterThan(25);
    expect(told).toBeGreaterThan(100);
  });
});

/** Times by which both tell events, a small number apart; where the second has the same days, any two times. */
function fewApart(
  first: readonly [readonly Day[], ClearedExhibits],
  second: readonly [readonly Day[], ClearedExhibits],
) {
  const [before, after] = [eventsByTick(...first), eventsByTick(...second)];
  const isSame = JSON.stringify(first[0]) === JSON.stringify(second[0]);
  const { threshold } = first[1];
  return [...after].flatMap(([tick, events]) =>
    [...before].flatMap(([other, earlier]) => {
      const apart = Math.abs(events - earlier);
      return (isSame || tick === other) && apart > 0 && apart < threshold
        ? [`${earlier} by ${other}, ${events} by ${tick}`]
        : [];
    }),
  );
}

/** Events that points of the line and the numbers beneath tell, by tick; a marked one is the first report's. */
function eventsByTick(days: readonly Day[], { exhibits }: ClearedExhibits): Map<number, number> {
  const found = new Map<number, number>();
  const eventsTo = (tick: number) => days.reduce((sum, [day, events]) => sum + (day <= tick ? events : 0), 0);
  for (const exhibit of exhibits) {
    if (exhibit.kind !== "curves") continue;
    for (const { time, value, asBefore } of exhibit.curves) {
      if (asBefore) continue;
      for (const [at, tick] of time.entries()) {
        if (at > 0 && value[at] !== value[at - 1]) found.set(tick, eventsTo(tick));
      }
    }
    for (const { events } of exhibit.landmarks) {
      for (const [at, cell] of events.entries()) {
        const tick = Math.floor((exhibit.years[at] ?? 0) * 365.25);
        if (!cell.hidden && !cell.asBefore && cell.values.length > 0) found.set(tick, cell.values[0] ?? 0);
      }
    }
  }
  return found;
}

describe("disclose() for readers who hold a report", () => {
  const groups = (a: number, b: number): Exhibit[] => [
    table("groups", [[countCell(count("group/a", a))], [countCell(count("group/b", b))]]),
  ];
  const shown = (cleared: ClearedExhibits) => cleared.exhibits.flatMap(cellsOf).map(({ text }) => text);
  const beside = (first: Exhibit[], second: Exhibit[]) =>
    disclose(second, "committee", { definition: SAME, readersHold: [heldOf(disclose(first, "committee"))] });

  it("gives a count that changed by a few as it stood before, and others as they are now", () => {
    const cleared = beside(groups(36, 50), groups(38, 70));
    expect(shown(cleared)).toEqual(["36†", "70"]);
    expect(cleared.exhibits[0]).toMatchObject({
      rows: [{ cells: [{ values: [36], asBefore: true, hidden: false }] }, {}],
      notes: [expect.stringMatching(/^† as in the report before/)],
    });
    expect(cleared.log).toMatchObject([{ act: "given as in a report that the readers hold", cells: 1 }]);
    expect(cleared.held).toEqual([{ id: "before", audience: "committee", hash: "0".repeat(64) }]);
  });

  it("gives everything as it is where nothing changed, and changes nothing without a report to think of", () => {
    expect(shown(beside(groups(36, 50), groups(36, 50)))).toEqual(["36", "50"]);
    const plain = disclose(groups(36, 50), "committee");
    expect(disclose(groups(36, 50), "committee", { definition: SAME, readersHold: [] })).toEqual(plain);
  });

  it("goes on with the number of the first of three until the change since then is plain", () => {
    const first = heldOf(disclose(groups(36, 50), "committee"), "first");
    const next = (a: number, held: ReturnType<typeof heldOf>[]) =>
      disclose(groups(a, 50), "committee", { definition: SAME, readersHold: held });
    const second = heldOf(next(38, [first]), "second");
    expect(shown(next(40, [first, second]))[0]).toBe("36†");
    // 42 less 37 to 40 leaves 2 to 5: part of what is small, so it would be narrowed; and 36 is no longer near.
    expect(shown(next(42, [first, second]))[0]).toBe("hidden");
    expect(shown(next(45, [first, second]))[0]).toBe("45");
  });

  it("hides what the first hid and nothing moved, whatever else would be given up now", () => {
    const rows = (b: number): Exhibit[] => [
      crossTable("t", { x: [3, 20, 40], y: [30, 25, b] }, ["a", "b", "c"], (part) => countCell(part)),
    ];
    const one = disclose(rows(50), "committee");
    const hidden = (cleared: ClearedExhibits) =>
      cleared.exhibits.flatMap(cellsOf).flatMap((cell, at) => (cell.hidden ? [at] : []));
    const two = disclose(rows(90), "committee", { definition: SAME, readersHold: [heldOf(one)] });
    expect(hidden(one).length).toBeGreaterThan(2);
    expect(hidden(two)).toEqual(expect.arrayContaining(hidden(one)));
  });

  it("draws the line before once more where the events at its end changed by a few", () => {
    const days = (last: number) =>
      [
        [100, 8, 3],
        [600, 9, 2],
        [870, last, 5],
      ] as const;
    const exhibit = (last: number): Exhibit[] => [
      curveExhibit([curve("loosening/x", 500, days(last), { drawnTo: 900 })], { years: [0, 1, 2] }),
    ];
    const one = disclose(exhibit(9), "committee");
    const two = disclose(exhibit(11), "committee", { definition: SAME, readersHold: [heldOf(one)] });
    const [before, now] = [one, two].map(({ exhibits: [first] }) =>
      first?.kind === "curves" ? first.curves[0] : undefined,
    );
    expect(now).toEqual({ ...before, asBefore: true });
    // Whatever is read off it is the first report's, and says so.
    const [drawn] = two.exhibits;
    if (drawn?.kind !== "curves") throw new Error("curves were expected");
    expect(yearCell(drawn, "loosening/x", 1)).toMatchObject({
      asBefore: true,
      text: expect.stringMatching(/†$/),
    });
    expect(JSON.stringify(two.exhibits[0])).toContain("So is the line: loosening/x.");
  });

  it("puts no point of a line, and no year, a few events from another year of the first", () => {
    const days = [
      [300, 8, 0],
      [700, 3, 0],
      [1200, 9, 0],
    ] as const;
    const exhibit = (years: readonly number[]): Exhibit[] => [
      curveExhibit([curve("loosening/x", 500, days)], { years }),
    ];
    const one = disclose(exhibit([0, 1, 4]), "committee");
    const two = disclose(exhibit([0, 2, 4]), "committee", { definition: SAME, readersHold: [heldOf(one)] });
    const [events] = two.exhibits.flatMap((each) =>
      each.kind === "curves" ? [each.landmarks[0]?.events] : [],
    );
    // 8 by year 1, 11 by year 2.
    expect(events?.map(({ text }) => text)).toEqual(["0", "hidden"]);
  });

  it("lends no number of readers who may see smaller counts", () => {
    const held = heldOf(disclose(groups(8, 50), "committee"));
    const cleared = disclose(groups(12, 50), "external", { definition: SAME, readersHold: [held] });
    expect(shown(cleared)).toEqual(["hidden", "50"]);
  });
});
