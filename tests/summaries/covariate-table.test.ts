import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import {
  type CodeCovariate,
  type CovariateRow,
  covariateTable,
  type NumberCovariate,
} from "../../src/summaries/covariate-table.ts";
import { expectRelative, numberColumn, referenceRecord, referenceRows } from "../reference/record.ts";
import { codes, numbers } from "./columns.ts";

const age = numbers("age", [70, undefined, 60, 66, "not asked", 80, 50]);
const sex = codes("sex", ["f", "m", "x"], ["f", "m", "f", undefined, "m", "m", "f"]);
const input = {
  covariates: [
    { label: "Age, years", column: age },
    { label: "Sex", column: sex },
  ],
  rows: [0, 1, 2, 3, 4, 5],
  group: { codes: [0, 0, 0, 1, 1, 1], labels: ["with", "without"] },
  persons: [10, 10, 11, 12, 13, 12],
};

function asNumbers(row: CovariateRow | undefined): NumberCovariate {
  if (row === undefined || row.kind === "code") throw new Error("not numbers");
  return row;
}
function asCodes(row: CovariateRow | undefined): CodeCovariate {
  if (row?.kind !== "code") throw new Error("not codes");
  return row;
}

describe("covariateTable()", () => {
  const table = covariateTable(input);

  it("counts groups in units and persons", () => {
    expect(table.groups).toEqual([
      { label: "with", units: 3, persons: 2 },
      { label: "without", units: 3, persons: 2 },
    ]);
  });

  it("describes numbers of the rows given, and counts missing ones by reason", () => {
    const row = asNumbers(table.covariates[0]);
    expect(row.label).toBe("Age, years");
    expect(row.present).toEqual([
      { units: 2, persons: 2 },
      { units: 2, persons: 1 },
    ]);
    expect(row.missing).toEqual([
      {
        reason: "blank",
        groups: [
          { units: 1, persons: 1 },
          { units: 0, persons: 0 },
        ],
      },
      {
        reason: "not asked",
        groups: [
          { units: 0, persons: 0 },
          { units: 1, persons: 1 },
        ],
      },
    ]);
    expect(row.summaries.map(({ n, missing }) => [n, missing])).toEqual([
      [2, 1],
      [2, 1],
    ]);
    expect(row.summaries[0]?.centre).toMatchObject({ mean: 65, median: 65, lowerQuartile: 62.5 });
    // Closed form: means 65 and 73, variances 50 and 98, so −8 / √74.
    expect(row.largest).toMatchObject({ groups: [0, 1], value: expect.closeTo(8 / Math.sqrt(74), 13) });
    expect(row.differences).toEqual([
      { groups: [0, 1], difference: { computed: true, value: expect.closeTo(-8 / Math.sqrt(74), 13) } },
    ]);
  });

  it("counts codes in units and persons with shares of the rows present", () => {
    const row = asCodes(table.covariates[1]);
    expect(row.present).toEqual([
      { units: 3, persons: 2 },
      { units: 2, persons: 2 },
    ]);
    expect(row.categories).toEqual([
      {
        label: "label f",
        groups: [
          { units: 2, persons: 2, share: { computed: true, value: 2 / 3 } },
          { units: 0, persons: 0, share: { computed: true, value: 0 } },
        ],
      },
      {
        label: "label m",
        groups: [
          { units: 1, persons: 1, share: { computed: true, value: 1 / 3 } },
          { units: 2, persons: 2, share: { computed: true, value: 1 } },
        ],
      },
      {
        label: "label x",
        groups: [
          { units: 0, persons: 0, share: { computed: true, value: 0 } },
          { units: 0, persons: 0, share: { computed: true, value: 0 } },
        ],
      },
    ]);
  });

  it("adds up: present and missing are all rows of a group (identity)", () => {
    for (const row of table.covariates) {
      row.present.forEach((present, group) => {
        const missing = row.missing.reduce((sum, { groups }) => sum + (groups[group]?.units ?? 0), 0);
        expect(present.units + missing).toBe(table.groups[group]?.units);
      });
    }
  });

  it("does not change when rows are shuffled (identity)", () => {
    const order = [4, 1, 5, 0, 3, 2];
    const pick = (list: readonly number[]) => order.map((at) => list[at] ?? -1);
    const shuffled = covariateTable({
      ...input,
      rows: pick(input.rows),
      group: { ...input.group, codes: pick(input.group.codes) },
      persons: pick(input.persons),
    });
    expect(shuffled).toEqual(table);
  });

  it("takes each row for a person of its own where none are given", () => {
    const { persons: _persons, ...rest } = input;
    expect(covariateTable(rest).groups.map(({ persons }) => persons)).toEqual([3, 3]);
  });

  it("holds no p-value and no test", () => {
    expect(JSON.stringify(table)).not.toMatch(/"p"|pValue|chiSquare|statistic/i);
  });

  it("agrees with the training programme (reference: R)", () => {
    const { expected } = referenceRecord("08_groups", "smd.lalonde");
    const rows = referenceRows("lalonde.csv");
    const levels = expected.raceLevels as string[];
    const answer = covariateTable({
      covariates: [
        { label: "age", column: numbers("age", numberColumn(rows, "age")) },
        {
          label: "race",
          column: codes(
            "race",
            levels,
            rows.map((row) => row.race),
          ),
        },
      ],
      rows: rows.map((_, row) => row),
      group: { codes: rows.map((row) => (row.treat === "1" ? 0 : 1)), labels: ["treated", "control"] },
    });
    const [first, second] = answer.covariates.map(({ differences }) => differences[0]?.difference);
    expectRelative(first?.computed ? first.value : undefined, expected.age, 1e-11);
    expectRelative(second?.computed ? second.value : undefined, expected.race, 1e-11);
    asCodes(answer.covariates[1]).categories.forEach(({ groups }, at) => {
      const shares = groups.map(({ share }) => (share.computed ? share.value : undefined));
      expectRelative(shares[0], expected.raceProportionsTreated[at], 1e-14);
      expectRelative(shares[1], expected.raceProportionsControl[at], 1e-14);
    });
  });

  it("compares each pair of three groups and names the largest difference", () => {
    const three = covariateTable({
      covariates: [{ label: "x", column: numbers("x", [1, 2, 1, 4, 9, 11]) }],
      rows: [0, 1, 2, 3, 4, 5],
      group: { codes: [0, 0, 1, 1, 2, 2], labels: ["a", "b", "c"] },
    });
    const row = asNumbers(three.covariates[0]);
    expect(row.differences.map(({ groups }) => groups)).toEqual([
      [0, 1],
      [0, 2],
      [1, 2],
    ]);
    // Closed form: means 1.5 and 10, variances 0.5 and 2.
    expect(row.largest).toMatchObject({ groups: [0, 2], value: expect.closeTo(8.5 / Math.sqrt(1.25), 13) });
  });

  it("names no largest difference while one pair has none", () => {
    const table = covariateTable({
      covariates: [
        { label: "x", column: numbers("x", [1, 2, 1, 4, undefined]) },
        { label: "y", column: codes("y", ["u", "v"], ["u", "u", "v", "v", "u"]) },
      ],
      rows: [0, 1, 2, 3, 4],
      group: { codes: [0, 0, 1, 1, 2], labels: ["a", "b", "c"] },
    });
    expect(table.covariates[0]?.largest).toMatchObject({ computed: false, code: "no-values" });
    expect(table.covariates[1]?.largest).toMatchObject({ computed: false, code: "no-spread" });
    expect(asNumbers(table.covariates[0]).summaries[2]?.centre.computed).toBe(false);
  });

  it("stands with an empty group, one group and no rows", () => {
    const empty = covariateTable({ ...input, rows: [], group: { ...input.group, codes: [] }, persons: [] });
    expect(empty.groups.map(({ units }) => units)).toEqual([0, 0]);
    expect(asCodes(empty.covariates[1]).categories[0]?.groups[0]?.share).toMatchObject({ code: "no-values" });
    const one = covariateTable({ ...input, group: { codes: [0, 0, 0, 0, 0, 0], labels: ["all"] } });
    expect(one.covariates[0]?.differences).toEqual([]);
    expect(one.covariates[0]?.largest).toMatchObject({ code: "one-group" });
  });

  it("gives a reason nobody stated its own line", () => {
    const column = { ...age, missing: Uint8Array.from([0, 9, 0, 0, 2, 0, 0]) };
    const row = covariateTable({ ...input, covariates: [{ label: "age", column }] }).covariates[0];
    expect(row?.missing.map(({ reason }) => reason)).toEqual(["not asked", "no reason stated"]);
  });

  it("refuses text, group codes without a label and columns of two lengths; leaves the caller's arrays alone", () => {
    const text = {
      kind: "text",
      field: "note",
      values: ["a"],
      missing: Uint8Array.from([0]),
      missingReasons: [],
    } as const;
    expect(() => covariateTable({ ...input, covariates: [{ label: "note", column: text }] })).toThrow(
      ArgumentError,
    );
    expect(() => covariateTable({ ...input, group: { ...input.group, codes: [0, 0, 0, 1, 1, 2] } })).toThrow(
      ArgumentError,
    );
    expect(() => covariateTable({ ...input, group: { ...input.group, codes: [0] } })).toThrow(ArgumentError);
    expect(() => covariateTable({ ...input, persons: [1] })).toThrow(ArgumentError);
    expect(input.rows).toEqual([0, 1, 2, 3, 4, 5]);
    expect([...age.values].filter((value) => value !== 1e9)).toEqual([70, 60, 66, 80, 50]);
  });
});
