import { describe, expect, it } from "vitest";
import { checkObservations } from "../../src/survival/check-observations.ts";
import { independentUnits, unitShares, unitsSeen } from "../../src/survival/units.ts";

const ROWS = { exit: [4, 5, 6, 7], event: [0, 1, 0, 1] };
const group = { codes: [0, 0, 0, 1], labels: ["a", "b", "nobody"] };
const cluster = { codes: [9, 7, 9, 7], word: "surgeon" };
const values = [1, 4, 9, 0];

describe("independentUnits()", () => {
  const unitsOf = (change: object, clustered = true) => {
    const units = independentUnits(checkObservations({ ...ROWS, ...change }), clustered);
    const codes = units.codes && [...units.codes];
    return { word: units.word, count: units.count, codes, factors: [0, 1, 2, 3].map(units.factor) };
  };

  it("are the rows, each once, where nothing says otherwise", () => {
    expect(unitsOf({})).toEqual({ word: null, count: 4, codes: undefined, factors: [1, 1, 1, 1] });
  });

  it("are the clusters where they are asked for", () => {
    const clustered = { word: "surgeon", count: 2, codes: [0, 1, 0, 1] };
    expect(unitsOf({ cluster })).toEqual({ ...clustered, factors: [1, 1, 1, 1] });
    for (const kind of ["copies", "sampling"]) {
      expect(unitsOf({ cluster, weight: { kind, values } })).toEqual({ ...clustered, factors: values });
    }
    expect(unitsOf({ cluster }, false)).toMatchObject({ word: null, count: 4 });
  });

  it("are the cases where rows are pieces", () => {
    const pieces = { caseId: [3, 3, 8, 1], entry: [-1, 4, -1, -1] };
    expect(unitsOf(pieces)).toEqual({ word: null, count: 3, codes: [0, 0, 1, 2], factors: [1, 1, 1, 1] });
  });

  it("take a copy by its root and a sampling weight as it is", () => {
    expect(unitsOf({ weight: { kind: "copies", values } }).factors).toEqual([1, 2, 3, 0]);
    expect(unitsOf({ weight: { kind: "sampling", values } }).factors).toEqual(values);
  });

  it("refuse weights whose squares vanish or run over, and take the last that do not", () => {
    const weighted = (value: number) => () =>
      unitsOf({ weight: { kind: "sampling", values: [1, value, 0, 1] } });
    for (const value of [1e-101, 1e101]) expect(weighted(value)).toThrow("row 2, weight");
    expect(() => unitsOf({ weight: { kind: "sampling", values: [1e-101, 1, 1, 1] } })).toThrow(
      "row 1, weight",
    );
    for (const value of [1e-100, 1e100, 0]) expect(weighted(value)).not.toThrow();
  });
});

describe("unitsSeen() and unitShares()", () => {
  const observations = checkObservations({ ...ROWS, group, cluster, weight: { kind: "sampling", values } });
  const units = independentUnits(observations, true);

  it("count the units of some groups", () => {
    expect([[0], [1], [2], [0, 1], []].map((groups) => unitsSeen(observations, units, groups))).toEqual([
      2, 1, 0, 2, 0,
    ]);
    const rows = independentUnits(observations, false);
    expect(unitsSeen(observations, rows, [0])).toBe(3);
  });

  it("share a group's weight out, and share out nothing of nothing", () => {
    expect([...unitShares(observations, units, 0)]).toEqual([10 / 14, 4 / 14]);
    for (const empty of [1, 2]) expect([...unitShares(observations, units, empty)]).toEqual([0, 0]);
    const unweighted = checkObservations({ ...ROWS, group });
    const shares = unitShares(unweighted, independentUnits(unweighted, false), 0);
    expect([...shares]).toEqual([1 / 3, 1 / 3, 1 / 3, 0]);
  });
});
