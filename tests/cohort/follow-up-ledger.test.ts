import { describe, expect, it } from "vitest";
import { dateOfDay, dayNumber } from "../../src/base/day-number.ts";
import { columnOfRole } from "../../src/cases/column-of-role.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import type { CensoringRule } from "../../src/cohort/endpoint.ts";
import { followUp } from "../../src/cohort/follow-up.ts";
import { followUpLedger, LEDGER_SOURCES, ledgerByGroup } from "../../src/cohort/follow-up-ledger.ts";
import { selectCohort } from "../../src/cohort/select-cohort.ts";
import { completeness } from "../../src/survival/completeness.ts";
import { DATED_FIELDS, datedCsv, descriptor, type Json, writeExport } from "../cases/export-file.ts";

const DEMO = new URL("../../data/demo/datapackage.json", import.meta.url).pathname;
const CUT = "2020-12-31";
const OPERATED = { operated: "2015-01-05", seen: "2018-03-01" };

const ROWS = [
  { ...OPERATED, revised: "2017-06-01", reason: "infection" },
  { ...OPERATED, died: "2019-06-01" },
  { ...OPERATED, emigrated: "2016-06-01", seen: "" },
  OPERATED,
  { ...OPERATED, revised: "2017-06-01", died: "2017-06-01", reason: "infection" },
  { ...OPERATED, seen: "" },
];

async function ledger(rule: CensoringRule, study: Json = {}) {
  const cases = await readCases(
    writeExport(datedCsv(...ROWS), descriptor(DATED_FIELDS, {}, { dataCut: CUT, ...study })),
  );
  return followUpLedger(cases, selectCohort(cases, []), rule);
}
const lines = ({ rows, knownTo, source }: Awaited<ReturnType<typeof ledger>>) =>
  [...rows].map((row, at) => `${row + 1} ${dateOfDay(knownTo[at] ?? 0)} ${LEDGER_SOURCES[source[at] ?? 0]}`);

describe("followUpLedger()", () => {
  it("follows to the data cut, to death, to emigration or to the revision, and says which", async () => {
    expect(lines(await ledger("dataCut"))).toEqual([
      "1 2017-06-01 revision",
      "2 2019-06-01 death",
      "3 2016-06-01 emigration",
      "4 2020-12-31 dataCut",
      "5 2017-06-01 revision",
      "6 2020-12-31 dataCut",
    ]);
  });

  it("follows to the last contact, and has no line for a knee of which nothing is known", async () => {
    const made = await ledger("lastContact", { revisionCapture: "ownUnit" });
    expect(lines(made)).toEqual([
      "1 2017-06-01 revision",
      "2 2019-06-01 death",
      "3 2016-06-01 emigration",
      "4 2018-03-01 lastContact",
      "5 2017-06-01 revision",
    ]);
    expect(made.unknown).toBe(1);
  });

  it("gives both days where registers capture events and visits measure", async () => {
    const made = await ledger("hybrid");
    expect(lines(made)).toEqual(lines(await ledger("dataCut")));
    const seen = [...(made.seenTo ?? [])].map(dateOfDay);
    expect(seen).toEqual([
      "2017-06-01",
      "2018-03-01",
      "2015-01-05",
      "2018-03-01",
      "2017-06-01",
      "2015-01-05",
    ]);
  });

  it.each([
    ["dataCut", { revisionCapture: "ownUnit" }, "censoring-rule-not-allowed"],
    ["dataCut", { deathCapture: "unknown" }, "censoring-rule-not-allowed"],
    ["hybrid", { deathCapture: "ownUnit" }, "censoring-rule-not-allowed"],
    ["hybrid", { dataCut: undefined }, "data-cut-not-stated"],
  ] as const)("refuses %s where the export declares %o", async (rule, study, code) => {
    await expect(ledger(rule, study)).rejects.toMatchObject({ code });
  });

  it("sees a knee unrevised on a radiograph later than the last contact, and none before the operation", async () => {
    const fields = [...DATED_FIELDS, { name: "taken", type: "date", role: "radiographDate" }];
    const [header = "", ...rows] = datedCsv(...ROWS)
      .trimEnd()
      .split("\n");
    const taken = ["2018-01-01", "", "2019-05-01", "2019-05-01", "", "2014-12-01"];
    const csv = [`${header},taken`, ...rows.map((row, at) => `${row},${taken[at]}`)].join("\n");
    const study = { dataCut: CUT, revisionCapture: "ownUnit" };
    const cases = await readCases(writeExport(`${csv}\n`, descriptor(fields, {}, study)));
    const cohort = selectCohort(cases, []);
    const made = followUpLedger(cases, cohort, "lastContact");
    expect(lines(made)).toEqual([
      "1 2017-06-01 revision",
      "2 2019-06-01 death",
      "3 2016-06-01 emigration",
      "4 2019-05-01 radiograph",
      "5 2017-06-01 revision",
    ]);
    const followed = followUp(cases, cohort, {
      event: { label: "revision", revisionFor: "any" },
      competing: [{ label: "death", death: true }],
      censoring: "lastContact",
    });
    expect([...followed.exit]).toEqual([...made.knownTo].map((day, at) => day - (made.operated[at] ?? 0)));
    const [all] = ledgerByGroup(made, () => 0, ["all"], { dataCut: dayNumber(CUT) });
    expect(all).toMatchObject({ lost: 2, bySource: { radiograph: 1, lastContact: 0, emigration: 1 } });
  });

  it.each(["dataCut", "lastContact"] as const)(
    "agrees with follow-up by %s on the demo export (twin)",
    async (censoring) => {
      const cases = await readCases(DEMO);
      const cohort = selectCohort(cases, []);
      const { rows, operated, knownTo } = followUpLedger(cases, cohort, censoring);
      const followed = followUp(cases, cohort, {
        event: { label: "revision", revisionFor: "any" },
        competing: [{ label: "death", death: true }],
        censoring,
      });
      expect([...rows]).toEqual([...followed.rows]);
      expect([...knownTo].map((day, at) => day - (operated[at] ?? 0))).toEqual([...followed.exit]);
    },
  );
});

describe("ledgerByGroup()", () => {
  it("counts sources, days and losses of each group, and agrees with completeness (identity)", async () => {
    const cases = await readCases(DEMO);
    const cohort = selectCohort(cases, []);
    const made = followUpLedger(cases, cohort, "lastContact");
    const sex = columnOfRole(cases, "sex");
    if (sex?.kind !== "code") throw new Error("the demo export has a coded sex");
    const cut = dayNumber(cases.descriptor.study.dataCut ?? "");
    const groups = ledgerByGroup(made, (row) => sex.values[row], sex.labels, { dataCut: cut });
    expect(groups.reduce((sum, { knees }) => sum + knees, 0)).toBe(made.rows.length);
    const followed = followUp(cases, cohort, {
      event: { label: "revision", revisionFor: "any" },
      competing: [{ label: "death", death: true }],
      censoring: "lastContact",
    });
    const event = Array.from(followed.rows, () => 0);
    const group = {
      codes: Uint8Array.from(followed.rows, (row) => sex.values[row] ?? 0),
      labels: sex.labels,
    };
    const shares = completeness({ exit: followed.exit, event, group }, followed.possible ?? []);
    for (const { label, bySource, knees, observedDays, lost } of groups) {
      expect(Object.values(bySource).reduce((sum, count) => sum + count, 0)).toBe(knees);
      expect(observedDays / 365.25).toBeCloseTo(
        shares.groups.find((each) => each.group === label)?.observedYears ?? 0,
        6,
      );
      const expected = [...followed.rows].filter(
        (row, at) => followed.lost?.[at] === 1 && sex.labels[sex.values[row] ?? 0] === label,
      );
      expect(lost).toBe(expected.length);
    }
  });

  it("leaves rows of no group out and calls nobody lost without a data cut", async () => {
    const made = await ledger("lastContact", { dataCut: undefined });
    const [group] = ledgerByGroup(made, (row) => (row < 2 ? 0 : undefined), ["first two"]);
    expect(group).toMatchObject({ knees: 2, lost: 0, bySource: { revision: 1, death: 1 } });
  });
});
