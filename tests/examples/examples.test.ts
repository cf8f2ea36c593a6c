import { join } from "node:path";
import { describe, expect, it } from "vitest";
import * as mantle from "../../src/index.ts";
import { examplesOf } from "./examples-of.ts";
import { missingFrom } from "./holds-what-is-said.ts";
import { runExample } from "./run-example.ts";

const { functions, examples } = examplesOf(join(import.meta.dirname, "../../src/index.ts"));

/** Writes files: what it is given is what the example of `runStudy` makes. */
const NOT_RUN = ["writeReport"];

/** Steps between others, of no use by themselves; the notebooks and the example of `runStudy` show them at work. */
const WITHOUT_EXAMPLE = [
  "adherenceFiles",
  "asIfInGroup",
  "countCell",
  "effectOverTime",
  "exhibitBlock",
  "feasibilityFiles",
  "followUpLedger",
  "ledgerByGroup",
  "loosenedComponents",
  "noCell",
  "notebookSource",
  "observations",
  "poolCounts",
  "reportFiles",
  "runFeasibility",
  "shareCell",
  "sized",
  "standardisedCurves",
  "stepRecording",
  "syntheticTruth",
  "textCell",
];

describe("examples in doc comments", () => {
  it("stand with every public function that can be shown by itself", () => {
    const without = functions.filter((name) => examples.every((example) => example.name !== name));
    expect(without.sort()).toEqual(WITHOUT_EXAMPLE);
    expect(examples.length).toBeGreaterThan(80);
  });

  it.each(
    examples.filter(({ name }) => !NOT_RUN.includes(name)).map(({ name, code }) => [name, code] as const),
  )("%s() comes to what its example says", async (_name, code) => {
    const came = await runExample(code, mantle);
    expect(came.length).toBeGreaterThan(0);
    for (const { said, value } of came) expect(missingFrom(value, said)).toEqual([]);
  });
});

describe("missingFrom()", () => {
  it("finds numbers to the decimals written, quoted texts and truth, and nothing in words alone", () => {
    const value = { kind: "rate", per100: 30.04, list: new Float64Array([-2.5]), reached: true };
    expect(missingFrom(value, 'a "rate" of 30.0 per 100, −2.5, true')).toEqual(["100"]);
    expect(missingFrom(value, "30.04 and −2.5")).toEqual([]);
    expect(missingFrom(value, "30.1, 3, false")).toEqual(["30.1", "3", "false"]);
    expect(missingFrom(value, 'a "ratio"')).toEqual(["ratio"]);
    expect(missingFrom(1384, "1,384")).toEqual([]);
    expect(missingFrom(value, "about thirty")).toEqual([]);
  });
});
