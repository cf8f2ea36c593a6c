import { describe, expect, it } from "vitest";
import { namedColumn } from "../../src/technique/named-column.ts";
import { fieldLevels } from "../../src/technique/row-levels.ts";
import { shownLabels } from "../../src/technique/shown-labels.ts";
import { type InventedField, inventedCases } from "./invented-cases.ts";

const FIELDS: readonly InventedField[] = [
  {
    name: "stem",
    type: "string",
    categories: [{ value: "s", label: "short stem" }, { value: "l" }],
  },
  { name: "theatre", type: "string", title: "Theatre" },
];
const cases = inventedCases(FIELDS, [
  ["l", "secret-name"],
  ["s", "green"],
  ["s", "secret-name"],
]);

function labelsOf(name: string): readonly string[] {
  const column = namedColumn(cases, name, "test");
  if (column.kind !== "code") throw new Error("codes were expected");
  return shownLabels(cases, column);
}

describe("shownLabels()", () => {
  it("gives the words of the dictionary", () => {
    expect(labelsOf("stem")).toEqual(["short stem", "l"]);
  });

  it("numbers codes that stand only in the file, and says nothing of what the file calls them", () => {
    expect(labelsOf("theatre")).toEqual(["Theatre 1", "Theatre 2"]);
  });

  it("spells a level as a table of levels does", () => {
    expect(labelsOf("theatre")).toEqual(fieldLevels(cases, "theatre").labels);
    expect(labelsOf("stem")).toEqual(fieldLevels(cases, "stem").labels);
  });
});
