import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dateOfDay } from "../../src/base/day-number.ts";
import type { Cases } from "../../src/cases/cases.ts";
import { checkCases } from "../../src/cases/check-cases.ts";
import { columnOfRole } from "../../src/cases/column-of-role.ts";
import { loadDescriptor } from "../../src/cases/load-descriptor.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import type { CaseRole } from "../../src/cases/roles.ts";
import type { Json } from "./export-file.ts";
import { writeFiles } from "./export-file.ts";
import {
  CASE_FIELDS,
  DEATHS,
  link,
  linkedDescriptor,
  linkedFiles,
  NUMBERED_CASES,
  NUMBERED_KNEES,
  NUMBERED_REVISIONS,
  RADIOGRAPHS,
  REVISION_FIELDS,
  REVISIONS,
  REVISIONS_BY_PATIENT,
  readLinked,
  THREE_KNEES,
} from "./linked-exports.ts";

/** What a role says of each case: an ISO date, a word, or null. */
function said(cases: Cases, role: CaseRole): (string | null)[] {
  const column = columnOfRole(cases, role);
  return Array.from(column?.missing ?? [], (missing, row) => {
    if (missing > 0 || column === undefined) return null;
    if (column.kind === "day") return dateOfDay(column.values[row] ?? 0);
    return column.kind === "code" ? (column.codes[column.values[row] ?? 0] ?? null) : null;
  });
}
const problems = ({ findings }: Cases) =>
  findings.groups
    .filter(({ code }) => code !== "link-counts")
    .map(({ code, severity }) => `${severity} ${code}`);
const NO_ROWS = { matched: 0, unmatched: 0, ambiguous: 0, conflicting: 0, withoutKey: 0 };

describe("a second table of revisions", () => {
  it("brings the first revision of each knee, whatever the order of its rows, and multiplies nothing", async () => {
    const revisions = ["K3,left,2018-05-01,pain", "K1,left,2017-01-01,pain", "K3,left,2017-05-01,loosening"];
    const cases = await readLinked({ revisions }, [REVISIONS]);
    expect(cases.rows).toBe(3);
    expect(said(cases, "revisionDate")).toEqual(["2017-01-01", null, "2017-05-01"]);
    expect(said(cases, "revisionReason")).toEqual(["pain", null, "loosening"]);
    expect(cases.linkage).toEqual([
      { table: "revisions", holds: "revisions", rows: 3, ...NO_ROWS, matched: 3 },
    ]);
    expect(problems(cases)).toEqual([]);
    expect(checkCases(cases).errors).toBe(0);
  });

  it("may be the only one that says what was revised", async () => {
    const fields = CASE_FIELDS.filter(({ name }) => name !== "revised");
    const files = {
      ...linkedFiles({ revisions: ["K3,left,2017-05-01,pain"] }),
      "cases.csv": "case,patient,side,operated,seen\nK3,P2,left,2015-03-05,2019-01-01\n",
    };
    const cases = await readCases(writeFiles(files, linkedDescriptor([REVISIONS], fields)));
    expect(said(cases, "revisionDate")).toEqual(["2017-05-01"]);
    expect(cases.findings.errors + checkCases(cases).errors).toBe(0);
    expect(() => loadDescriptor(writeFiles(files, linkedDescriptor([DEATHS], fields)))).toThrow(
      /needs a field with the role "revisionDate"/,
    );
  });

  it("keeps every reason of a list or of ticks beside the main one", async () => {
    const words = [{ value: "pain" }, { value: "loosening" }, { value: "infection" }];
    const ofReason = (field: Json) =>
      link("revisions", "revisions.csv", "knee", "case", [...REVISION_FIELDS.slice(0, -1), field]);
    const listed = ofReason({
      name: "reason",
      type: "list",
      delimiter: "|",
      role: "revisionReason",
      categories: words,
    });
    const revisions = [
      "K1,left,2017-01-01,pain|infection",
      "K3,left,2018-05-01,pain|loosening",
      "K3,left,2017-05-01,loosening",
    ];
    const ofList = await readLinked({ revisions }, [listed]);
    expect(said(ofList, "revisionReason")).toEqual(["infection", null, "loosening"]);
    expect(ofList.tickedReasons).toMatchObject({
      field: "reason",
      foundAs: ["revisions.reason"],
      sets: [["pain", "infection"], ["loosening"]],
      several: 1,
      changed: 1,
    });
    const found = ofList.findings.groups.find(({ code }) => code === "several-reasons-ticked");
    expect(found).toMatchObject({ field: "revisions.reason", count: 2 });
    const ticked = ofReason({ name: "reason", type: "boolean", role: "revisionReason:pain" });
    const ofTicks = await readLinked({ revisions: ["K1,left,2017-01-01,1"] }, [ticked]);
    expect(said(ofTicks, "revisionReason")).toEqual(["pain", null, null]);
    expect(ofTicks.tickedReasons).toMatchObject({ several: 0, changed: 0 });
  });

  it.each<readonly [string, readonly string[], Json, object, string[]]>([
    [
      "a knee never operated",
      ["K9,left,2017-01-01,pain"],
      REVISIONS,
      { unmatched: 1 },
      ["error revision-of-unknown-knee"],
    ],
    [
      "another side",
      ["K1,right,2017-01-01,pain"],
      REVISIONS,
      { conflicting: 1 },
      ["error link-side-conflicts"],
    ],
    [
      "either knee of a patient",
      ["P1,,2017-01-01,pain"],
      REVISIONS_BY_PATIENT,
      { ambiguous: 1 },
      ["error link-ambiguous"],
    ],
    [
      "one knee of a patient, by its side",
      ["P1,right,2017-01-01,pain"],
      REVISIONS_BY_PATIENT,
      { matched: 1 },
      [],
    ],
    [
      "one day for two reasons",
      ["K1,left,2017-01-01,pain", "K1,left,2017-01-01,loosening"],
      REVISIONS,
      { matched: 1, conflicting: 1 },
      ["error link-rows-conflict"],
    ],
    ["no key", [",left,2017-01-01,pain"], REVISIONS, { withoutKey: 1 }, ["warning link-key-missing"]],
    [
      "the same revision twice",
      ["K1,left,2017-01-01,pain", "K1,left,2017-01-01,pain"],
      REVISIONS,
      { matched: 2 },
      [],
    ],
  ])("counts a row for %s", async (_name, revisions, table, counts, found) => {
    const cases = await readLinked({ revisions }, [table]);
    expect(cases.linkage).toEqual([
      { table: "revisions", holds: "revisions", rows: revisions.length, ...NO_ROWS, ...counts },
    ]);
    expect(problems(cases)).toEqual(found);
  });

  it("fills what the cases lack, and refuses what contradicts them", async () => {
    const revisions = ["K1,left,2017-01-01,pain"];
    const withDate = (date: string) => [`K1,P1,left,2015-01-05,${date},2019-01-01`, ...THREE_KNEES.slice(1)];
    const agreeing = await readLinked({ revisions, cases: withDate("2017-01-01") }, [REVISIONS]);
    expect(problems(agreeing)).toEqual([]);
    const differing = await readLinked({ revisions, cases: withDate("2017-01-02") }, [REVISIONS]);
    expect(problems(differing)).toEqual(["error link-contradicts-case"]);
    expect(said(differing, "revisionDate")[0]).toBe("2017-01-02");
  });

  it("refuses a field of another kind than the cases hold, and one that is neither dates nor words", async () => {
    const words = ["K1,left,2017-01-01,pain"];
    const differing = await readLinked(
      { cases: NUMBERED_KNEES, revisions: words },
      [REVISIONS],
      NUMBERED_CASES,
    );
    const found = ({ findings }: Cases) => findings.groups.find(({ code }) => code.startsWith("link-kind"));
    expect(found(differing)).toMatchObject({
      code: "link-kinds-differ",
      severity: "error",
      field: "patient",
      first: [{ details: { cases: "numbers", table: "words" } }],
    });
    const numbered = await readLinked({ revisions: ["K1,left,2017-01-01,1"] }, [NUMBERED_REVISIONS]);
    expect(found(numbered)).toMatchObject({
      code: "link-kind-not-taken",
      severity: "error",
      field: "reason",
      first: [{ details: { table: "numbers" } }],
    });
    expect(numbered.fieldOfRole.has("revisionReason")).toBe(false);
  });

  it("lets the row rules see what it brought", async () => {
    const cases = await readLinked({ revisions: ["K1,left,2014-01-01,pain"] }, [REVISIONS]);
    expect(checkCases(cases).groups.map(({ code }) => code)).toContain("revision-before-operation");
  });
});

describe("a second table of radiographs", () => {
  const radiographs = [
    "K1,2018-01-05,progressive line",
    "K1,2016-01-05,none",
    "K1,2017-01-05,progressive line",
    "K2,2018-01-05,none",
    "K2,2017-01-05,",
    "K3,,progressive line",
  ];

  it("brings the last radiograph, what was found, and the first on which it was, whatever the order", async () => {
    const cases = await readLinked({ radiographs }, [RADIOGRAPHS]);
    expect(cases.rows).toBe(3);
    expect(said(cases, "radiographDate")).toEqual(["2018-01-05", "2018-01-05", null]);
    expect(said(cases, "radiographFinding")).toEqual(["progressive line", "none", null]);
    expect(said(cases, "radiographFindingDate")).toEqual(["2017-01-05", null, null]);
    expect([...cases.columns.keys()].slice(-3)).toEqual(["taken", "lines", "radiographs.taken"]);
    expect(cases.linkage).toMatchObject([{ holds: "radiographs", rows: 6, matched: 6 }]);
    const shuffled = await readLinked({ radiographs: radiographs.toReversed() }, [RADIOGRAPHS]);
    for (const role of ["radiographDate", "radiographFinding", "radiographFindingDate"] as const) {
      expect(said(shuffled, role)).toEqual(said(cases, role));
    }
  });

  it("counts no finding of before the operation or after the revision, wherever the revision stands", async () => {
    const found = [
      // K1 was operated on 2015-01-05, K2 on 2016-01-05, K3 on 2015-03-05.
      ...["K1,2014-12-31,progressive line", "K1,2016-01-05,none"],
      ...["K2,2016-06-01,none", "K2,2017-02-01,progressive line"],
      ...["K3,2015-03-05,progressive line", "K3,2015-03-04,progressive line"],
    ];
    const revisions = ["K2,right,2017-01-31,pain"];
    for (const tables of [
      [RADIOGRAPHS, REVISIONS],
      [REVISIONS, RADIOGRAPHS],
    ]) {
      const cases = await readLinked({ radiographs: found, revisions }, tables);
      expect(said(cases, "radiographFinding")).toEqual(["none", "none", "progressive line"]);
      expect(said(cases, "radiographFindingDate")).toEqual([null, null, "2015-03-05"]);
    }
    const inTime = await readLinked({ radiographs: found, revisions: ["K2,right,2017-02-01,pain"] }, [
      ...[RADIOGRAPHS, REVISIONS],
    ]);
    expect(said(inTime, "radiographFindingDate")).toEqual([null, "2017-02-01", "2015-03-05"]);
  });

  it("agrees with a search of every knee's rows (twin)", () => {
    const row = fc.record({
      knee: fc.constantFrom("K1", "K2", "K3"),
      day: fc.integer({ min: 17_000, max: 17_060 }),
      lines: fc.constantFrom("none", "progressive line", ""),
    });
    return fc.assert(
      fc.asyncProperty(
        fc.uniqueArray(row, { selector: ({ knee, day }) => `${knee} ${day}` }),
        async (rows) => {
          const lines = rows.map(({ knee, day, lines: word }) => `${knee},${dateOfDay(day)},${word}`);
          const cases = await readLinked({ radiographs: lines.length > 0 ? lines : ["K9,2018-01-05,"] }, [
            RADIOGRAPHS,
          ]);
          const expected = ["K1", "K2", "K3"].map((knee) => {
            const own = rows.filter((one) => one.knee === knee).sort((one, other) => one.day - other.day);
            const first = own.find(({ lines: word }) => word === "progressive line");
            const nothing = own.findLast(({ lines: word }) => word === "none");
            const days = [own.at(-1)?.day, first?.day].map((day) =>
              day === undefined ? null : dateOfDay(day),
            );
            return [...days, (first ?? nothing)?.lines ?? null];
          });
          const found = [0, 1, 2].map((at) =>
            (["radiographDate", "radiographFindingDate", "radiographFinding"] as const).map(
              (role) => said(cases, role)[at] ?? null,
            ),
          );
          expect(found).toEqual(expected);
        },
      ),
      { numRuns: 30 },
    );
  });

  it("needs the day on which each was taken", () => {
    const undated = link("radiographs", "radiographs.csv", "knee", "case", [
      { name: "knee", type: "string" },
    ]);
    expect(() => loadDescriptor(writeFiles(linkedFiles({}), linkedDescriptor([undated])))).toThrow(
      /needs a field with the role "radiographDate"/,
    );
  });
});

describe("a second table of deaths", () => {
  it("brings the death of a patient to all their knees, and refuses two days of death", async () => {
    const cases = await readLinked({ deaths: ["P1,2018-01-01", "P9,2018-01-01"] }, [DEATHS]);
    expect(said(cases, "deathDate")).toEqual(["2018-01-01", "2018-01-01", null]);
    expect(cases.linkage?.[0]).toMatchObject({ matched: 1, unmatched: 1 });
    expect(problems(cases)).toEqual(["warning link-unmatched"]);
    const twice = await readLinked({ deaths: ["P1,2018-01-01", "P1,2018-01-02"] }, [DEATHS]);
    expect(problems(twice)).toEqual(["error link-rows-conflict"]);
  });
});

describe("any second tables", () => {
  it("never change the number of cases, and count every row once (property)", async () => {
    const row = fc.tuple(
      fc.constantFrom("P1", "P2", "P3", ""),
      fc.constantFrom("left", "right", ""),
      fc.integer({ min: 1, max: 9 }),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(row, { minLength: 1, maxLength: 12 }), async (made) => {
        const revisions = made.map(([key, side, day]) => `${key},${side},2017-01-0${day},pain`);
        const deaths = made.map(([key, , day]) => `${key},2018-01-0${day}`);
        const cases = await readLinked({ revisions, deaths }, [REVISIONS_BY_PATIENT, DEATHS]);
        expect(cases.rows).toBe(3);
        for (const column of cases.columns.values()) expect(column.missing).toHaveLength(3);
        for (const { rows, matched, unmatched, ambiguous, conflicting, withoutKey } of cases.linkage ?? []) {
          expect(matched + unmatched + ambiguous + conflicting + withoutKey).toBe(rows);
        }
      }),
      { numRuns: 25, seed: 20_240_612 },
    );
  });

  it.each<readonly [string, (table: Json) => Json, RegExp]>([
    [
      "no key",
      ({ schema, ...rest }) => ({ ...rest, schema: { ...(schema as Json), foreignKeys: [] } }),
      /must hold one key/,
    ],
    ["a path outside", (table) => ({ ...table, path: "../deaths.csv" }), /own folder/],
    [
      "an unknown field",
      ({ schema, ...rest }) => ({
        ...rest,
        schema: {
          ...(schema as Json),
          foreignKeys: [{ fields: "x", reference: { resource: "cases", fields: "case" } }],
        },
      }),
      /there is no field "x"/,
    ],
  ])("are refused with %s", (_name, change, message) => {
    const path = writeFiles(linkedFiles({}), linkedDescriptor([change(DEATHS)]));
    expect(() => loadDescriptor(path)).toThrow(message);
  });
});
