import { describe, expect, it } from "vitest";
import { checkObservations } from "../../src/survival/check-observations.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { tickSlots } from "../../src/survival/tick-slots.ts";

function slotsOf(exit: readonly number[], entry?: readonly number[]) {
  const observations = checkObservations({ exit, event: exit.map(() => 0), ...(entry && { entry }) });
  return tickSlots(observations, Uint32Array.from(exit.keys()));
}

describe("tickSlots()", () => {
  it("has a slot for each tick up to the last while ticks are few", () => {
    const slots = slotsOf([3, 4095]);
    expect(slots.count).toBe(4096);
    expect([0, 3, 4095].map((tick) => [slots.slotOf(tick), slots.tickOf(tick)])).toEqual([
      [0, 0],
      [3, 3],
      [4095, 4095],
    ]);
  });

  it("has a slot for each distinct exit and entry beyond that, in order of time", () => {
    const slots = slotsOf([9000, 3, 4096, 3], [7, -1, 3, 2]);
    const ticks = [0, 2, 3, 7, 4096, 9000];
    expect(slots.count).toBe(ticks.length);
    expect(Array.from(ticks, (_, slot) => slots.tickOf(slot))).toEqual(ticks);
    expect(ticks.map(slots.slotOf)).toEqual([0, 1, 2, 3, 4, 5]);
    expect(slotsOf([4096, 5]).count).toBe(2);
  });

  it("gives more room to more rows", () => {
    const thousand = Array.from({ length: 1000 }, (_, row) => row);
    expect(slotsOf([...thousand, 8007]).count).toBe(8008);
    expect(slotsOf([...thousand, 8008]).count).toBe(1001);
  });

  it("does not show in the counts which way they were made", () => {
    const rows = { exit: [2, 5, 5, 9], entry: [-1, 2, 0, 5], event: [1, 0, 1, 0] };
    const stretch = (ticks: readonly number[]) => ticks.map((tick) => (tick < 0 ? tick : tick * 10_000));
    const [near] = countsByTime(rows).cells;
    const [far] = countsByTime({ ...rows, exit: stretch(rows.exit), entry: stretch(rows.entry) }).cells;
    expect(
      far && { ...far, time: far.time.map((tick) => tick / 10_000), ticksAtRisk: far.ticksAtRisk / 10_000 },
    ).toEqual(near);
  });
});
