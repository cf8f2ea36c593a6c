import { describe, expect, it } from "vitest";
import { coxConcordance } from "../../src/regression/cox-concordance.ts";
import { expectRelative, referenceRecord } from "../reference/record.ts";
import { type CoxExample, fitted, freireich, heart, lung, present } from "./cox-examples.ts";

const record = (id: string, part: string) => referenceRecord("05_cox", id).expected[part];
const MAIN = ["age", "year", "surgery", "transplant"];

const EXAMPLES: readonly (readonly [string, string, CoxExample])[] = [
  ["cox.freireich_ties", "concordanceEfron", freireich()],
  ["cox.lung", "concordance", lung()],
  ["cox.lung", "concordanceStratified", lung({ stratified: true })],
  ["cox.heart_counting", "concordance", heart(MAIN)],
];

describe("coxConcordance()", () => {
  it.each(EXAMPLES)("meets %s %s (R survival)", (id, part, { columns, matrix }) => {
    const theirs = record(id, part);
    const ours = present(coxConcordance(columns, matrix, fitted({ columns, matrix })));
    expectRelative(ours.concordance, theirs.concordance, 1e-8);
    expectRelative(ours.standardError, theirs.se, 1e-8);
    const counts = theirs.counts;
    const total = (name: string, at: number) =>
      Array.isArray(counts)
        ? counts.reduce((sum: number, line: number[]) => sum + (line[at] ?? 0), 0)
        : counts[name];
    expect(ours.concordant).toBe(total("concordant", 0));
    expect(ours.discordant).toBe(total("discordant", 1));
    expect(ours.tiedHazards).toBe(total("tied.x", 2));
  });

  it("has no value where no event leaves anybody behind", () => {
    const { matrix } = freireich();
    const two = {
      ...matrix,
      rows: Int32Array.of(0, 1),
      columns: [{ name: "x", values: Float64Array.of(0, 1) }],
    };
    const columns = { exit: [4, 4], event: [1, 1] };
    expect(
      coxConcordance(columns, two, fitted({ columns, matrix: two }, { sameDay: "breslow" })),
    ).toMatchObject({
      code: "no-pairs",
    });
  });
});
