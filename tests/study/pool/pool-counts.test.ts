import { dirname } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { readCases } from "../../../src/cases/read-cases.ts";
import { followUp as deriveFollowUp } from "../../../src/cohort/follow-up.ts";
import { selectCohort } from "../../../src/cohort/select-cohort.ts";
import { observations } from "../../../src/study/observations.ts";
import { poolCounts } from "../../../src/study/pool/pool-counts.ts";
import type { CountsByTime } from "../../../src/survival/counts.ts";
import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { cumulativeIncidence } from "../../../src/survival/cumulative-incidence.ts";
import { kaplanMeier } from "../../../src/survival/kaplan-meier.ts";
import { logRankTest } from "../../../src/survival/log-rank-test.ts";
import { revisionRate } from "../../../src/survival/revision-rate.ts";
import { yearDifference } from "../../../src/survival/year-difference.ts";
import { exposureGroups } from "../../../src/technique/exposure-groups.ts";
import { PLAN } from "../small-export.ts";
import {
  CENTRES,
  COLUMNS,
  countedSource,
  DEMO_CSV,
  FOLLOW_UP,
  GROUPS,
  query,
  writeCounts,
} from "./pool-sources.ts";

/** The counts of the demo study by the package's own way, from the export. */
let ofRows: CountsByTime;
beforeAll(async () => {
  const cases = await readCases(`${dirname(DEMO_CSV)}/datapackage.json`);
  const cohort = selectCohort(cases, [
    { label: "osteoarthritis", field: "role:diagnosis", oneOf: ["osteoarthritis"] },
    { label: "cemented", field: "role:fixation", oneOf: ["cemented"] },
  ]);
  const groups = exposureGroups(cases, {
    step: "tourniquet",
    labels: { done: GROUPS[0], notDone: GROUPS[1] },
  });
  const compared = observations(deriveFollowUp(cases, cohort, PLAN.endpoint), groups);
  ofRows = countsByTime(compared.observations);
});

describe("poolCounts()", () => {
  it("gives the study's own counts from the query's counts of the demo export (identity)", async () => {
    const { csv, descriptor } = await countedSource("true");
    const { counts } = poolCounts([writeCounts(csv, descriptor)]);
    expect(counts).toEqual(ofRows);
  });

  it("gives the same counts, and the same bytes of every estimate, from four centres added (identity)", async () => {
    const folders = [];
    for (const centre of CENTRES) {
      const { csv, descriptor } = await countedSource(`centre = '${centre}'`);
      folders.push(writeCounts(csv, descriptor));
    }
    const { counts, bySource } = poolCounts(folders);
    expect(counts).toEqual(ofRows);
    const event = ["aseptic loosening"];
    const estimates = (of: CountsByTime) =>
      JSON.stringify([
        kaplanMeier(of, { event, years: [5, 10] }),
        cumulativeIncidence(of, { years: [5, 10] }),
        logRankTest(of, { event }),
        revisionRate(of, { event, periods: [3, 5] }),
        yearDifference(of, { measure: "incidence", cause: "aseptic loosening", years: [5, 10] }),
      ]);
    expect(estimates(counts)).toBe(estimates(ofRows));
    // Strata change nothing but the test: curves add over them.
    expect(kaplanMeier(bySource, { event })).toEqual(kaplanMeier(ofRows, { event }));
    expect(bySource.strata).toEqual(["1/all", "2/all", "3/all", "4/all"]);
    expect(logRankTest(bySource, { event })).toMatchObject({
      computed: true,
      settings: { stratified: true },
    });
  });

  it("gives the counts of the rows with strata and delayed entry (identity)", async () => {
    const { csv, descriptor } = await countedSource("true", {
      columns: { ...COLUMNS, stratum: "sex", entry: "entry_day" },
      descriptor: { strata: ["female", "male"] },
    });
    const { counts } = poolCounts([writeCounts(csv, descriptor)]);
    const rows = await query(`SELECT * FROM ${FOLLOW_UP}`);
    const label = (labels: readonly string[], name: string) =>
      rows.map((row) => labels.indexOf(String(row[name])));
    const direct = countsByTime({
      exit: rows.map((row) => Number(row.days)),
      event: label(["null", ...counts.causes], "ended_by"),
      entry: rows.map((row) => (row.entry_day === null ? -1 : Number(row.entry_day))),
      group: { codes: label(GROUPS, "technique"), labels: [...GROUPS] },
      stratum: { codes: label(["female", "male"], "sex"), labels: ["female", "male"] },
      causes: counts.causes,
    });
    expect(direct.delayedEntry).toBe(true);
    expect(counts).toEqual(direct);
  });

  it("keeps the events up to each whole year when days are joined to months (identity)", async () => {
    const { csv, descriptor } = await countedSource("true", { monthsFromDays: true });
    const { counts } = poolCounts([writeCounts(csv, descriptor)]);
    const events = (of: CountsByTime, group: number, upTo: number) => {
      const cell = of.cells[group];
      return cell?.events.map((column) =>
        column.reduce((sum, one, at) => sum + ((cell.time[at] ?? 0) <= upTo ? one : 0), 0),
      );
    };
    for (const year of [1, 2, 3, 5, 10, 15]) {
      for (const group of [0, 1]) {
        expect(events(counts, group, 12 * year)).toEqual(events(ofRows, group, Math.floor(365.25 * year)));
      }
    }
    expect(counts.cells.map(({ cases }) => cases)).toEqual(ofRows.cells.map(({ cases }) => cases));
  });

  it("takes the groups in the order of the first file, whatever the order in the others", async () => {
    const one = await countedSource("centre = 'C1'");
    const two = await countedSource("centre = 'C2'");
    const turned = { ...two.descriptor, groups: [...(two.descriptor.groups as unknown[])].reverse() };
    const straight = poolCounts([writeCounts(one.csv, one.descriptor), writeCounts(two.csv, two.descriptor)]);
    const mixed = poolCounts([writeCounts(one.csv, one.descriptor), writeCounts(two.csv, turned)]);
    expect(mixed.counts).toEqual(straight.counts);
  });
});
