import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { checkObservations } from "../../src/survival/check-observations.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";

const GOOD: ObservationColumns = { exit: [5, 0, 7], event: [1, 0, 0] };

describe("checkObservations()", () => {
  it("gives typed columns, one group, one stratum, one cause and days by default", () => {
    const observations = checkObservations(GOOD);
    expect(observations.rows).toBe(3);
    expect(observations.exit).toEqual(Int32Array.of(5, 0, 7));
    expect(observations.event).toEqual(Uint8Array.of(1, 0, 0));
    expect(observations.group).toEqual({ codes: new Uint16Array(3), labels: ["all"] });
    expect(observations.causes).toEqual(["event"]);
    expect(observations.timeUnit.word).toBe("day");
  });

  it("returns what it has passed before as it is, and checks a changed copy again", () => {
    const observations = checkObservations(GOOD);
    expect(checkObservations(observations)).toBe(observations);
    expect(() => checkObservations({ ...observations, event: [9, 0, 0] })).toThrow(ArgumentError);
  });

  it("copies the columns, so that later changes of the caller's arrays do nothing", () => {
    const exit = [5, 6];
    const observations = checkObservations({ exit, event: [0, 0] });
    exit[0] = 99;
    expect(observations.exit[0]).toBe(5);
  });

  it("numbers clusters in order of appearance", () => {
    const { cluster } = checkObservations({ ...GOOD, cluster: { codes: [700, 3, 700], word: "surgeon" } });
    expect(cluster).toEqual({ codes: Int32Array.of(0, 1, 0), count: 2, word: "surgeon" });
  });

  const faults: readonly (readonly [string, Partial<ObservationColumns>, string])[] = [
    ["an exit that is no whole tick", { exit: [5, 2.5, 7] }, "row 2, exit"],
    ["an exit before tick 0", { exit: [5, 6, -1] }, "row 3, exit"],
    ["an exit that is no number", { exit: [Number.NaN, 6, 7] }, "row 1, exit"],
    ["an infinite exit", { exit: [5, Number.POSITIVE_INFINITY, 7] }, "row 2, exit"],
    ["a hole in a column", { event: [1, undefined as unknown as number, 0] }, "row 2, event"],
    [
      "an event code beyond the causes",
      { event: [1, 2, 0] },
      "row 2, event: must be a whole number from 0 to 1",
    ],
    ["columns of two lengths", { event: [1, 0] }, "event has 2 elements and exit has 3"],
    ["an exit on the tick of entry", { entry: [-1, -1, 7] }, "row 3, exit not after entry"],
    ["an exit on tick 0 after an entry on tick 0", { entry: [0, 0, 0] }, "row 2, exit not after entry"],
    ["an entry below −1", { entry: [-2, -1, -1] }, "row 1, entry"],
    ["a group code without a label", { group: { codes: [0, 1, 2], labels: ["a", "b"] } }, "row 3, group"],
    ["a repeated label", { group: { codes: [0, 1, 0], labels: ["a", "a"] } }, "repeats a label"],
    ["no cause", { causes: [] }, "causes needs from 1 to 255 labels"],
    ["a negative weight", { weight: { kind: "sampling", values: [1, -1, 1] } }, "row 2, weight"],
    [
      "a weight that is no number",
      { weight: { kind: "sampling", values: [1, Number.NaN, 1] } },
      "row 2, weight",
    ],
    ["an infinite weight", { weight: { kind: "sampling", values: [1, 1, 1 / 0] } }, "row 3, weight"],
    [
      "a fraction of a copy",
      { weight: { kind: "copies", values: [1, 1.5, 1] } },
      "row 2, weight: copies must be whole",
    ],
    ["nothing but weights of 0", { weight: { kind: "copies", values: [0, 0, 0] } }, "every weight is 0"],
    [
      "an unknown kind of weight",
      { weight: { kind: "other" as "copies", values: [1, 1, 1] } },
      "weight kind",
    ],
    [
      "pieces that overlap",
      { entry: [-1, -1, 3], caseId: [1, 2, 1], event: [0, 0, 0] },
      "rows 1 and 3 of one case overlap",
    ],
    ["pieces with a gap", { entry: [-1, -1, 6], caseId: [1, 2, 1], event: [0, 0, 0] }, "leave a gap"],
    [
      "a case that goes on after its event",
      { entry: [-1, -1, 5], caseId: [1, 2, 1] },
      "row 1: its case goes on in row 3",
    ],
    ["a repeated case without entries", { caseId: [4, 4, 5], event: [0, 0, 0] }, "of one case overlap"],
  ];
  for (const [fault, change, message] of faults) {
    it(`refuses ${fault} and says where`, () => {
      expect(() => checkObservations({ ...GOOD, ...change })).toThrow(message);
      expect(() => checkObservations({ ...GOOD, ...change })).toThrow(ArgumentError);
    });
  }

  it("never prints a value of a row", () => {
    const secret = 1234.5;
    expect(() => checkObservations({ exit: [secret], event: [0] })).toThrow(/^(?!.*1234).*$/);
  });

  it("accepts nobody at all", () => {
    expect(checkObservations({ exit: [], event: [] }).rows).toBe(0);
    expect(checkObservations({ exit: [], event: [], weight: { kind: "copies", values: [] } }).rows).toBe(0);
  });
});
