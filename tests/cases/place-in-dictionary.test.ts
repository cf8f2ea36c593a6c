import { describe, expect, it } from "vitest";
import { placeInDictionary } from "../../src/cases/place-in-dictionary.ts";

const DICTIONARY = {
  resources: [
    {
      name: "cases",
      schema: { fields: [{ name: "side", categories: [{ value: "left" }] }, { type: "date" }] },
    },
    { name: "deaths", schema: { fields: [{ name: "died" }] } },
  ],
};
const FIRST = ["resources", 0, "schema", "fields"] as const;

describe("placeInDictionary()", () => {
  it.each([
    ["a key of a field", [...FIRST, 0, "role"], 'field "side", role'],
    ["a field as a whole", [...FIRST, 0], 'field "side"'],
    ["a category", [...FIRST, 0, "categories", 0, "state"], 'field "side", category "left", state'],
    ["all categories", [...FIRST, 0, "categories"], 'field "side", categories'],
    [
      "a category without a value",
      [...FIRST, 0, "categories", 7, "state"],
      'field "side", categories[7].state',
    ],
    ["a field without a name", [...FIRST, 1, "name"], "resources[0].schema.fields[1].name"],
    [
      "a second table",
      ["resources", 1, "schema", "fields", 0, "type"],
      'field "died" of the table "deaths", type',
    ],
    ["the study block", ["study", "dataCut"], "study.dataCut"],
    ["the whole", [], "descriptor"],
  ])("names %s", (_, path, text) => {
    expect(placeInDictionary(path, DICTIONARY)).toBe(text);
  });
});
