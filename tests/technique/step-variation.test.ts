import { describe, expect, it } from "vitest";
import { UsageError } from "../../src/base/errors.ts";
import { levelOverlap } from "../../src/technique/level-overlap.ts";
import { allRows, personCodes } from "../../src/technique/row-codes.ts";
import {
  centreLevels,
  crossedLevels,
  fieldLevels,
  operationYearLevels,
  surgeonLevels,
} from "../../src/technique/row-levels.ts";
import { statesByLevel } from "../../src/technique/states-by-level.ts";
import { stepStates } from "../../src/technique/step-states.ts";
import { stepsTogether } from "../../src/technique/steps-together.ts";
import { inventedCases } from "./invented-cases.ts";

const states = [
  { value: "y", state: "done" },
  { value: "n", state: "notDone" },
  { value: "x", state: "notApplicable" },
  { value: "?", state: "notRecorded" },
];
const FIELDS = [
  { name: "patient", type: "string", role: "patientId" },
  { name: "surgeon", type: "string", role: "surgeon" },
  {
    name: "centre",
    type: "string",
    role: "centre",
    categories: [{ value: "c2", label: "Second" }, { value: "c1" }, { value: "c3" }],
  },
  { name: "on", type: "date", role: "operationDate" },
  { name: "cuff", type: "string", role: "technique:tourniquet", categories: states },
  { name: "gloves", type: "string", role: "technique:gloveChange", categories: states },
] as const;
const cases = inventedCases(FIELDS, [
  ["p1", "a", "c1", "2010-05-01", "y", "y"],
  ["p1", "a", "c1", "2011-05-01", "n", "n"],
  ["p2", "b", "c2", "2012-05-01", "y", "n"],
  ["p2", "b", "c2", "2012-06-01", "y", "y"],
  ["p3", "", "c2", "2014-06-01", "x", "y"],
  ["p4", "b", "", "2014-07-01", "?", "?"],
  ["p5", "b", "c2", "", "y", "?"],
]);
const rows = allRows(cases.rows);
const persons = personCodes(cases);
const cuff = stepStates(cases, "tourniquet").states;
const gloves = stepStates(cases, "gloveChange").states;
const known = <Value>(value: Value | undefined): Value => {
  if (value === undefined) throw new Error("the export has it");
  return value;
};

describe("levels of rows", () => {
  it("come from the dictionary, and surgeons get numbers of our own", () => {
    expect([...known(centreLevels(cases)).codes]).toEqual([1, 1, 0, 0, 0, -1, 0]);
    expect(known(centreLevels(cases)).labels).toEqual(["Second", "c1", "c3"]);
    expect([...known(surgeonLevels(cases)).codes]).toEqual([0, 0, 1, 1, -1, 1, 1]);
    expect(known(surgeonLevels(cases)).labels).toEqual(["surgeon 1", "surgeon 2"]);
  });

  it("are years of operation, or blocks of them counted from the first", () => {
    const years = known(operationYearLevels(cases));
    expect([...years.codes]).toEqual([0, 1, 2, 2, 4, 4, -1]);
    expect(years.labels).toEqual(["2010", "2011", "2012", "2013", "2014"]);
    expect(known(operationYearLevels(cases, 3)).labels).toEqual(["2010–2012", "2013–2014"]);
  });

  it("cross to every pair, and belong to none where either is missing", () => {
    const crossed = crossedLevels(known(surgeonLevels(cases)), known(operationYearLevels(cases, 3)));
    expect(crossed.labels).toEqual([
      "surgeon 1, 2010–2012",
      "surgeon 1, 2013–2014",
      "surgeon 2, 2010–2012",
      "surgeon 2, 2013–2014",
    ]);
    expect([...crossed.codes]).toEqual([0, 0, 2, 2, -1, 3, -1]);
  });

  it("are not there without the role, and a stratum must be coded", () => {
    const bare = inventedCases([FIELDS[0]], [["p1"]]);
    expect([centreLevels(bare), surgeonLevels(bare), operationYearLevels(bare)]).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
    expect(() => fieldLevels(cases, "on")).toThrow(/name a coded field/);
    expect(() => fieldLevels(cases, "role:bmi")).toThrow(/bmi/);
  });

  it.each(["role:surgeon", "surgeon", "role:patientId", "patient"])(
    "are refused where %s would make each of them one person's",
    (name) => {
      expect(() => fieldLevels(cases, name)).toThrow(UsageError);
      expect(() => fieldLevels(cases, name)).toThrow(/name a field that puts many together/);
    },
  );
});

describe("statesByLevel()", () => {
  it("counts knees and patients of every state at the levels somebody belongs to", () => {
    const found = statesByLevel(cuff, rows, known(centreLevels(cases)), persons);
    expect(found.map(({ label, states, all }) => [label, states.map(({ units }) => units), all])).toEqual([
      ["Second", [3, 0, 1, 0], { units: 4, persons: 3 }],
      ["c1", [1, 1, 0, 0], { units: 2, persons: 1 }],
    ]);
    expect(found[0]?.states[0]).toEqual({ units: 3, persons: 2 });
  });

  it("sums to the rows that have a level (identity)", () => {
    const found = statesByLevel(cuff, rows, known(operationYearLevels(cases)), persons);
    const sum = found.flatMap(({ states }) => states).reduce((total, { units }) => total + units, 0);
    expect(sum).toBe(6);
  });
});

describe("levelOverlap()", () => {
  it("keeps the levels at which both were done, and says how many lie to either side", () => {
    const found = levelOverlap(cuff, rows, known(surgeonLevels(cases)), 0.1);
    expect(found).toMatchObject({
      compared: 5,
      levelsWithBoth: ["surgeon 1"],
      under: 0,
      between: 1,
      over: 1,
    });
    expect([...found.rowsWithBoth]).toEqual([0, 1]);
  });

  it.each([
    [1, 9, "between"],
    [1, 10, "under"],
    [9, 1, "between"],
    [10, 1, "over"],
    [0, 4, "under"],
    [4, 0, "over"],
    [3, 27, "between"],
  ])("takes %d done and %d not done as %s the margin of a tenth", (done, notDone, standing) => {
    const made = Uint8Array.from({ length: done + notDone }, (_, at) => (at < done ? 0 : 1));
    const levels = { title: "", labels: ["one", "nobody"], codes: new Int32Array(made.length) };
    const found = levelOverlap(made, allRows(made.length), levels, 0.1);
    const expected = { under: 0, between: 0, over: 0, [standing]: 1 };
    expect(found).toMatchObject(expected);
  });
});

describe("stepsTogether()", () => {
  it("counts the rows where both steps are recorded as done or not done", () => {
    expect(stepsTogether(cuff, gloves, rows, persons)).toEqual({
      both: { units: 2, persons: 2 },
      firstOnly: { units: 1, persons: 1 },
      secondOnly: { units: 0, persons: 0 },
      neither: { units: 1, persons: 1 },
    });
  });

  it("changes places with its arguments (identity)", () => {
    const one = stepsTogether(cuff, gloves, rows, persons);
    const other = stepsTogether(gloves, cuff, rows, persons);
    expect([other.both, other.firstOnly, other.secondOnly]).toEqual([
      one.both,
      one.secondOnly,
      one.firstOnly,
    ]);
  });
});
