import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { countUnits, personCodes, rowCodes } from "../../src/technique/row-codes.ts";
import { inventedCases } from "./invented-cases.ts";

const patients = ["A", "B", "A", "", "", "B"].map((id) => [id]);
const cases = inventedCases([{ name: "patient", type: "string", role: "patientId" }], patients);

describe("rowCodes()", () => {
  it("gives equal values equal codes and each missing value a code of its own", () => {
    expect(personCodes(cases)).toEqual({ codes: Int32Array.from([0, 1, 0, 2, 3, 1]), count: 4 });
  });

  it("keeps long numbers written as text apart", () => {
    const ids = ["90071992547409931", "90071992547409932"].map((id) => [id]);
    const long = inventedCases([{ name: "patient", type: "string", role: "patientId" }], ids);
    expect(personCodes(long).count).toBe(2);
  });

  it("does not take the value stored beside a missing mark for a value", () => {
    const column = {
      kind: "number",
      field: "x",
      values: Float64Array.from([0, 0, 5]),
      missing: Uint8Array.from([0, 1, 0]),
      missingReasons: ["blank"],
    } as const;
    expect([...rowCodes(column).codes]).toEqual([0, 1, 2]);
  });
});

describe("personCodes()", () => {
  it("takes each row as a person of its own where the export has none", () => {
    const none = inventedCases([{ name: "age", type: "integer" }], [["1"], ["1"]]);
    expect(personCodes(none)).toEqual({ codes: Int32Array.from([0, 1]), count: 2 });
  });
});

describe("countUnits()", () => {
  it("counts a person with two knees once", () => {
    expect(countUnits([0, 2, 5], personCodes(cases))).toEqual({ units: 3, persons: 2 });
    expect(countUnits([], personCodes(cases))).toEqual({ units: 0, persons: 0 });
  });

  it("gives rows equal codes for equal texts alone, in ascending order and in any other", () => {
    const cell = fc.option(fc.constantFrom("", "K1", "K10", "K2", "k1"), { nil: undefined });
    fc.assert(
      fc.property(fc.array(cell, { maxLength: 12 }), fc.boolean(), (cells, isSorted) => {
        const given = isSorted ? [...cells].sort() : cells;
        const column = {
          kind: "text" as const,
          field: "id",
          values: given.map((text) => text ?? "K1"),
          missing: Uint8Array.from(given, (text) => (text === undefined ? 1 : 0)),
          missingReasons: ["blank"],
        };
        const { codes, count } = rowCodes(column);
        const twin = new Map<string, number>();
        const expected = given.map((text, row) => {
          const name = text === undefined ? `row ${row}` : `text ${text}`;
          if (!twin.has(name)) twin.set(name, twin.size);
          return twin.get(name);
        });
        expect([...codes]).toEqual(expected);
        expect(count).toBe(twin.size);
      }),
      { seed: 20_241_231 },
    );
  });
});
