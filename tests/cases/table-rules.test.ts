import { describe, expect, it } from "vitest";
import type { Findings } from "../../src/base/finding.ts";
import { briefly, type Cells, dayAt, ruleFindings } from "./rule-exports.ts";

const twoKnees = (first: Cells, second: Cells): Cells[] => [
  { patient: "P", ...first },
  { patient: "P", side: "left", ...second },
];
const rows = (count: number, cells: (at: number) => Cells): Cells[] =>
  Array.from({ length: count }, (_, at) => cells(at));
const details = ({ groups }: Findings, code: string) =>
  groups.filter((group) => group.code === code).map(({ first }) => first[0]?.details);

describe("checkCases() on the knees of one patient", () => {
  it.each<readonly [string, Cells, Cells, Cells]>([
    ["warning sex-conflicts sex", { sex: "female" }, { sex: "female" }, { sex: "male" }],
    [
      "error death-dates-conflict died",
      { died: "2020-01-01" },
      { died: "2020-01-01" },
      { died: "2020-01-02" },
    ],
    [
      "warning ages-conflict age",
      { operated: "2015-01-01", age: "66" },
      { operated: "2017-01-01", age: "69" },
      { operated: "2017-01-01", age: "70" },
    ],
    [
      "error operation-after-death operated",
      { operated: "2015-01-01", died: "2016-01-01" },
      { operated: "2016-01-01" },
      { operated: "2016-01-02" },
    ],
    [
      "warning revision-on-both-sides revised",
      { revised: "2019-01-01", reason: "infection" },
      { revised: "2019-01-02", reason: "infection" },
      { revised: "2019-01-01", reason: "infection" },
    ],
    ["warning side-unknown-of-two-knees side", {}, {}, { side: "" }],
  ])("%s", async (finding, first, right, wrong) => {
    expect(briefly(await ruleFindings(twoKnees(first, right)))).toEqual([]);
    expect(briefly(await ruleFindings(twoKnees(first, wrong)))).toEqual([`${finding} 2`]);
  });

  it("asks nothing of rows without a patient", async () => {
    const findings = await ruleFindings([
      { patient: "", sex: "female" },
      { patient: "", sex: "male" },
    ]);
    expect(new Set(findings.groups.map(({ code }) => code))).toEqual(new Set(["patient-missing"]));
  });

  it("tells two overlapping first operations of a knee from a revision that was listed as one", async () => {
    const revised = { patient: "P", operated: "2015-01-01", revised: "2017-05-01", reason: "infection" };
    const second = (operated: string) => ruleFindings([revised, { patient: "P", operated }]);
    expect(briefly(await second("2017-04-30"))).toEqual(["error knee-repeated patient 2"]);
    expect(briefly(await second("2017-05-01"))).toEqual(["error knee-revised-as-first patient 2"]);
  });
});

describe("checkCases() on codes in calendar time", () => {
  /** `before` rows of one code, then `after` rows of another. */
  const graded = (before: number, after: number, overlap = false) =>
    rows(before + after, (at) => ({
      grade: at < before && !(overlap && at === 0) ? "senior" : "consultant",
    }));

  it.each([
    [20, 20, 1],
    [19, 20, 0],
    [20, 19, 0],
  ])("warns where %i uses of a code end before %i of another begin: %i", async (before, after, expected) => {
    const findings = await ruleFindings(graded(before, after));
    expect(briefly(findings)).toEqual(Array(expected).fill("warning codes-change-over-time grade"));
  });

  it("names the year of the change and no code", async () => {
    expect(details(await ruleFindings(graded(200, 200)), "codes-change-over-time")).toEqual([{ year: 2016 }]);
  });

  it("says nothing where the codes overlap by one case", async () => {
    expect(briefly(await ruleFindings(graded(30, 30, true)))).toEqual([]);
  });

  it("leaves surgeons alone: they come and go", async () => {
    const findings = await ruleFindings(rows(60, (at) => ({ surgeon: at < 30 ? "S1" : "S2" })));
    expect(briefly(findings)).toEqual([]);
  });
});

describe("checkCases() on round values", () => {
  /** Of `all` last contacts, `heaped` lie on the first of some month; the others on the 2nd to 28th in turn. */
  const seen = (all: number, heaped: number) =>
    rows(all, (at) => {
      const month = String((at % 12) + 1).padStart(2, "0");
      const day = at < heaped ? 1 : 2 + (at % 27);
      return { operated: dayAt(at, 15_000), seen: `2019-${month}-${String(day).padStart(2, "0")}` };
    });

  it.each([
    [200, 20, 1],
    [200, 19, 0],
    [99, 60, 0],
  ])("warns where of %i dates %i stand on one day of the month: %i", async (all, heaped, expected) => {
    const findings = await ruleFindings(seen(all, heaped));
    expect(briefly(findings)).toEqual(Array(expected).fill("warning dates-heaped seen"));
  });

  it("does not count last contacts at the declared data cut", async () => {
    const cut = rows(200, (at) => ({ operated: dayAt(at, 15_000), seen: "2019-12-31" }));
    expect(briefly(await ruleFindings(cut, { dataCut: "2019-12-31" }))).toEqual([]);
    expect(briefly(await ruleFindings(cut))).toEqual(["warning dates-heaped seen"]);
  });

  /** Ages from 40 to 79; of each hundred, `round` end in 0 or 5. */
  const ages = (all: number, round: number) =>
    rows(all, (at) => ({
      age: String(
        at % 100 < round ? 40 + 5 * (at % 8) : 40 + 10 * (at % 4) + (at % 2 === 0 ? 1 : 6) + ((at >> 2) % 4),
      ),
    }));

  it.each([
    [200, 40, 1],
    [200, 39, 0],
    [99, 60, 0],
  ])("notes where of %i ages %i %% end in 0 or 5: %i", async (all, round, expected) => {
    const findings = await ruleFindings(ages(all, round));
    expect(briefly(findings)).toEqual(Array(expected).fill("note numbers-rounded age"));
  });

  it("does not take grades for rounded numbers", async () => {
    expect(briefly(await ruleFindings(rows(300, () => ({ asa: "5" }))))).toEqual([]);
  });
});

describe("checkCases() on fields that somebody never fills", () => {
  const filled = (own: number, others: number, filledOthers: number) => [
    ...rows(own, () => ({ surgeon: "S1" })),
    ...rows(others, (at) => ({ surgeon: "S2", bmi: at < filledOthers ? "27" : "" })),
  ];

  it.each([
    [20, 40, 20, 1],
    [19, 40, 40, 0],
    [20, 40, 19, 0],
  ])(
    "warns where %i rows of one surgeon lack what %i others hold %i times: %i",
    async (own, others, have, expected) => {
      const findings = await ruleFindings(filled(own, others, have));
      const about = findings.groups.filter(({ field }) => field === "bmi");
      expect(about.map(({ code }) => code)).toEqual(Array(expected).fill("surgeon-never-fills"));
    },
  );

  it("counts surgeons and rows and names neither", async () => {
    expect(details(await ruleFindings(filled(25, 40, 40)), "surgeon-never-fills")).toContainEqual({
      never: 1,
      rows: 25,
      firstRow: 1,
    });
  });

  it("does the same for centres, and says nothing of what did not happen", async () => {
    const findings = await ruleFindings(
      rows(80, (at) =>
        at < 40
          ? { centre: "C1" }
          : { centre: "C2", bmi: "27", revised: "2019-01-01", reason: "infection", died: "2020-01-01" },
      ),
    );
    const never = findings.groups.filter(({ code }) => code === "centre-never-fills");
    expect(never.map(({ field }) => field)).toEqual(["bmi"]);
  });
});
