import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import {
  EVERY_ESTIMATOR,
  NEEDS_ROWS_FOR_SAMPLING,
  resultOrRefusal,
  unusableNumbers,
} from "./every-estimator.ts";

const year = TIME_UNITS.year;
const group = { codes: [0, 0, 0, 1, 1, 1], labels: ["a", "b"] };
const causes = ["revision", "death"];

/** Six rows with nothing wrong: both causes in both groups, censorings, ties. */
const SOUND: ObservationColumns = {
  exit: [1, 2, 5, 1, 4, 6],
  event: [1, 2, 0, 1, 2, 0],
  group,
  causes,
  timeUnit: year,
};

/** What no estimator may take, and the words by which each refuses it. */
const REFUSED: readonly (readonly [string, Partial<ObservationColumns>, string])[] = [
  ["an event code beyond the causes", { event: [1, 3, 0, 1, 2, 0] }, "row 2, event"],
  ["a negative event code", { event: [-1, 2, 0, 1, 2, 0] }, "row 1, event"],
  ["an event code that is no whole number", { event: [1, 2, 0.5, 1, 2, 0] }, "row 3, event"],
  ["an event code that is none", { event: [1, 2, Number.NaN, 1, 2, 0] }, "row 3, event"],
  ["a column that is too short", { event: [1, 2] }, "event has 2 elements"],
  ["a negative tick", { exit: [-1, 2, 5, 1, 4, 6] }, "row 1, exit"],
  ["a tick that is no whole number", { exit: [1, 2.5, 5, 1, 4, 6] }, "row 2, exit"],
  ["a tick that is none", { exit: [1, 2, Number.NaN, 1, 4, 6] }, "row 3, exit"],
  ["an endless tick", { exit: [1, 2, Number.POSITIVE_INFINITY, 1, 4, 6] }, "row 3, exit"],
  ["an exit on the tick of entry", { entry: [0, 2, 0, 0, 0, 0] }, "row 2, exit not after entry"],
  ["an exit before entry", { entry: [0, 0, 0, 3, 0, 0] }, "row 4, exit not after entry"],
  ["an entry that is no whole number", { entry: [0, 0.5, 0, 0, 0, 0] }, "row 2, entry"],
  ["a negative weight", { weight: { kind: "sampling", values: [1, -1, 1, 1, 1, 1] } }, "row 2, weight"],
  [
    "a weight that is none",
    { weight: { kind: "copies", values: [1, Number.NaN, 1, 1, 1, 1] } },
    "row 2, weight",
  ],
  [
    "an endless weight",
    { weight: { kind: "sampling", values: [1, 1, Number.POSITIVE_INFINITY, 1, 1, 1] } },
    "row 3, weight",
  ],
  ["part of a copy", { weight: { kind: "copies", values: [1, 1, 1.5, 1, 1, 1] } }, "copies must be whole"],
  [
    "weights that are all 0",
    { weight: { kind: "sampling", values: [0, 0, 0, 0, 0, 0] } },
    "every weight is 0",
  ],
  ["a group without a label", { group: { ...group, codes: [0, 0, 2, 1, 1, 1] } }, "row 3, group"],
  ["one label for two groups", { group: { ...group, labels: ["a", "a"] } }, "group repeats a label"],
  ["a cluster that is none", { cluster: { codes: [0, 0, 0, 0, 0, -1], word: "surgeon" } }, "row 6, cluster"],
  [
    "pieces of a case that overlap",
    { caseId: [1, 2, 1, 3, 4, 5], entry: [-1, -1, 0, -1, -1, -1], event: [0, 2, 0, 1, 2, 0] },
    "rows 1 and 3",
  ],
];

/** What is sound but leaves little or nothing to estimate. */
const THIN: readonly (readonly [string, Partial<ObservationColumns>])[] = [
  ["nothing wrong", {}],
  ["nobody", { exit: [], event: [], group: { codes: [], labels: ["a", "b"] } }],
  ["one group only", { group: { codes: [0, 0, 0, 0, 0, 0], labels: ["a"] } }],
  ["a group without rows", { group: { codes: [0, 0, 0, 0, 0, 0], labels: ["a", "b"] } }],
  ["one case without an event", { exit: [4], event: [0], group: { codes: [0], labels: ["a", "b"] } }],
  ["one case with an event", { exit: [4], event: [1], group: { codes: [0], labels: ["a", "b"] } }],
  ["nobody at risk at the horizon", { exit: [1, 2, 2, 1, 2, 2] }],
  ["nobody at risk at the horizon in one group", { exit: [1, 2, 5, 1, 2, 2] }],
  ["no event of the cause in one group", { event: [2, 2, 0, 1, 2, 0] }],
  ["no event of the cause at all", { event: [2, 2, 0, 0, 2, 0] }],
  ["no event at all", { event: [0, 0, 0, 0, 0, 0] }],
  ["nobody censored", { event: [1, 2, 1, 1, 2, 1] }],
  ["only events of the cause", { event: [1, 1, 1, 1, 1, 1] }],
  ["everything on one tick", { exit: [3, 3, 3, 3, 3, 3] }],
  ["everybody with the event on one tick", { exit: [3, 3, 3, 3, 3, 3], event: [1, 1, 1, 1, 1, 1] }],
  ["everything on tick 0", { exit: [0, 0, 0, 0, 0, 0] }],
  ["events on tick 0", { exit: [0, 2, 5, 0, 4, 6] }],
  ["the last of each group with the event", { exit: [1, 2, 6, 1, 4, 6], event: [0, 2, 1, 0, 2, 1] }],
  [
    "a risk set that empties before late entries",
    { entry: [-1, -1, 3, -1, 2, 5], exit: [1, 2, 5, 1, 4, 6], event: [1, 1, 1, 1, 1, 1] },
  ],
  ["a risk set that empties by censoring", { entry: [-1, -1, 3, -1, 2, 5], event: [0, 0, 1, 0, 1, 1] }],
  ["everybody entering late", { entry: [0, 1, 3, 0, 2, 5] }],
  ["a single cluster", { cluster: { codes: [4, 4, 4, 4, 4, 4], word: "surgeon" } }],
  ["a cluster a group", { cluster: { codes: [0, 0, 0, 1, 1, 1], word: "surgeon" } }],
  ["two clusters", { cluster: { codes: [0, 1, 0, 1, 0, 1], word: "surgeon" } }],
  ["every row its own cluster", { cluster: { codes: [0, 1, 2, 3, 4, 5], word: "surgeon" } }],
  ["a stratum a row", { stratum: { codes: [0, 1, 2, 3, 4, 5], labels: ["u", "v", "w", "x", "y", "z"] } }],
  ["a group of weight 0", { weight: { kind: "copies", values: [1, 2, 1, 0, 0, 0] } }],
  ["copies", { weight: { kind: "copies", values: [1, 2, 3, 1, 2, 3] } }],
  ["sampling weights far apart", { weight: { kind: "sampling", values: [1e-9, 1e9, 1, 1e-9, 1e9, 1] } }],
  ["small sampling weights", { weight: { kind: "sampling", values: new Array(6).fill(1e-100) } }],
  ["large sampling weights", { weight: { kind: "sampling", values: new Array(6).fill(1e100) } }],
  [
    "sampling weights whose squares vanish",
    { weight: { kind: "sampling", values: new Array(6).fill(1e-200) } },
  ],
  [
    "sampling weights whose squares run over",
    { weight: { kind: "sampling", values: new Array(6).fill(1e200) } },
  ],
  ["cut rows", { caseId: [1, 1, 2, 3, 3, 4], entry: [-1, 1, -1, -1, 1, -1], event: [0, 2, 0, 0, 2, 0] }],
  ["ticks of days", { timeUnit: TIME_UNITS.day, exit: [100, 900, 1500, 120, 1400, 3000] }],
];

/** Each of the refusals an estimator may make of sound rows: it is not defined for them, and says so. */
function isOwnRefusal(name: string, columns: ObservationColumns, refusal: string): boolean {
  if (refusal.includes("multiply all sampling weights"))
    return [1e-200, 1e200].includes(columns.weight?.values[0] ?? 1);
  if (columns.weight?.kind === "sampling") {
    const rest = ["grayTest", "expectedEvents", "addCounts", "exactRateComparison"];
    return [...NEEDS_ROWS_FOR_SAMPLING, ...rest].includes(name);
  }
  if (name === "grayTest") return refusal.includes("delayed entry") || refusal.includes("weights");
  if (name === "addCounts") return refusal.includes("weighted counts");
  return name === "exactRateComparison" && refusal.includes("unitYears");
}

describe("every estimator of survival", () => {
  for (const [words, change, refusal] of REFUSED) {
    it(`refuses ${words}`, () => {
      for (const [name, estimate] of Object.entries(EVERY_ESTIMATOR)) {
        expect(() => estimate({ ...SOUND, ...change }), name).toThrow(refusal);
      }
    });
  }

  for (const [words, change] of THIN) {
    it(`gives numbers, or says why it has none, for ${words}`, () => {
      for (const [name, estimate] of Object.entries(EVERY_ESTIMATOR)) {
        const columns = { ...SOUND, ...change };
        const outcome = resultOrRefusal(() => estimate(columns));
        if ("refusal" in outcome) {
          expect(isOwnRefusal(name, columns, outcome.refusal), `${name}: ${outcome.refusal}`).toBe(true);
        } else expect(unusableNumbers(outcome.result), name).toEqual([]);
      }
    });
  }

  it("gives no unusable number for any rows drawn at random", () => {
    const row = fc.record({
      entry: fc.integer({ min: -1, max: 5 }),
      stay: fc.integer({ min: 1, max: 5 }),
      event: fc.integer({ min: 0, max: 2 }),
      group: fc.integer({ min: 0, max: 2 }),
      cluster: fc.integer({ min: 0, max: 3 }),
      weight: fc.integer({ min: 0, max: 3 }),
    });
    const weights = fc.constantFrom("none", "copies", "sampling");
    fc.assert(
      fc.property(fc.array(row, { maxLength: 9 }), weights, fc.boolean(), (rows, kind, clustered) => {
        fc.pre(kind === "none" || rows.some(({ weight }) => weight > 0));
        const columns: ObservationColumns = {
          exit: rows.map(({ entry, stay }) => entry + stay),
          entry: rows.map(({ entry }) => entry),
          event: rows.map(({ event }) => event),
          group: { codes: rows.map((one) => one.group), labels: ["a", "b", "c"] },
          causes,
          timeUnit: year,
          ...(clustered && { cluster: { codes: rows.map(({ cluster }) => cluster), word: "surgeon" } }),
          ...(kind !== "none" && {
            weight: { kind: kind as "copies" | "sampling", values: rows.map(({ weight }) => weight) },
          }),
        };
        for (const [name, estimate] of Object.entries(EVERY_ESTIMATOR)) {
          const outcome = resultOrRefusal(() => estimate(columns));
          if ("refusal" in outcome)
            expect(isOwnRefusal(name, columns, outcome.refusal), `${name}: ${outcome.refusal}`).toBe(true);
          else expect(unusableNumbers(outcome.result), name).toEqual([]);
        }
      }),
      { seed: 20_260_203, numRuns: 150 },
    );
  });

  it("sees a number that is none wherever it hides", () => {
    expect(
      unusableNumbers({ a: [1, { b: Number.NaN }], c: Float64Array.of(1, Number.POSITIVE_INFINITY) }),
    ).toEqual(["result.a.1.b: NaN", "result.c.1: Infinity"]);
    expect(unusableNumbers({ a: null, b: "x", c: [0] })).toEqual([]);
  });
});
