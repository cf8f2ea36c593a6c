import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { DESIGNS, formulaPower, knees, pOf } from "./power-designs.ts";

interface Row {
  readonly name: string;
  readonly formulaHolds: boolean;
  readonly replicates: number;
  readonly rejected: number;
  readonly withoutAnswer: number;
  readonly power: number;
  readonly monteCarloError: number;
  readonly meanEvents: number;
  readonly nearOne: boolean;
  readonly schoenfeld: number;
  readonly freedman: number;
}

const { table } = JSON.parse(readFileSync(new URL("./power.json", import.meta.url), "utf8")) as {
  table: readonly Row[];
};
const row = (words: string) => {
  const found = table.find(({ name }) => name.includes(words));
  if (found === undefined) throw new Error(`no row on ${words}`);
  return found;
};

describe("the committed table of simulated power", () => {
  it("has a row for every design, made of counts that add up", () => {
    expect(table.map(({ name }) => name)).toEqual(DESIGNS.map(({ name }) => name));
    for (const { rejected, replicates, power, withoutAnswer } of table) {
      expect(power).toBe(rejected / replicates);
      expect(rejected + withoutAnswer).toBeLessThanOrEqual(replicates);
    }
  });

  // The error at the formula's own value: that of a simulated 0 would be 0.
  const apart = (power: number, formula: number, replicates: number) =>
    Math.abs(power - formula) / Math.sqrt((formula * (1 - formula)) / replicates);

  it("agrees with Freedman's formula within three Monte Carlo errors wherever hazards are proportional and knees independent", () => {
    const holds = table.filter(({ formulaHolds }) => formulaHolds);
    expect(holds.length).toBeGreaterThanOrEqual(6);
    for (const { name, power, freedman, replicates } of holds) {
      expect(apart(power, freedman, replicates), name).toBeLessThanOrEqual(3);
    }
  });

  it("agrees with Schoenfeld's formula near a ratio of 1 or with groups of like size, and falls short of it elsewhere", () => {
    const holds = table.filter(({ formulaHolds }) => formulaHolds);
    expect(holds.filter(({ nearOne }) => nearOne).length).toBeGreaterThanOrEqual(4);
    for (const { name, power, schoenfeld, replicates, nearOne } of holds) {
      if (nearOne) expect(apart(power, schoenfeld, replicates), name).toBeLessThanOrEqual(3);
      // The larger group has the higher hazard, where the formula promises too much.
      else expect(power, name).toBeLessThan(schoenfeld);
    }
  });

  it("finds far less than the formula where one ratio is looked for in all years and holds in three", () => {
    const { power, freedman, monteCarloError } = row("looked for in all years");
    expect(power).toBeLessThan(freedman - 3 * monteCarloError);
  });

  it("states the formula for the events that were drawn", () => {
    for (const [at, design] of DESIGNS.entries()) {
      const { schoenfeld, freedman, meanEvents } = table[at] ?? row("");
      expect(schoenfeld).toBe(formulaPower(design, meanEvents, "schoenfeld"));
      expect(freedman).toBe(formulaPower(design, meanEvents, "freedman"));
    }
  });
});

describe("a design", () => {
  it("draws the same knees from the same seed, and its test has an answer", () => {
    const [design] = DESIGNS;
    if (design === undefined) throw new Error("there are designs");
    const small = { ...design, knees: 800 };
    const [one, same, other] = [knees(small, 4), knees(small, 4), knees(small, 5)];
    expect(same).toEqual(one);
    expect(other).not.toEqual(one);
    expect(pOf(small, one.observations)).toMatchObject({ computed: true });
  });
});
