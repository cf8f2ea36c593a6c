import { describe, expect, it } from "vitest";
import { TIME_UNITS, yearsOfTicks } from "../../../src/base/time-unit.ts";
import { disclose } from "../../../src/disclosure/disclose.ts";
import { expectedByGroup } from "../../../src/study/estimates/expected-by-group.ts";
import type { StudyFacts } from "../../../src/study/facts.ts";
import { reportFiles } from "../../../src/study/making/report-files.ts";
import { clearedView } from "../../../src/study/making/view.ts";
import { defineStudy } from "../../../src/study/plan/define-study.ts";
import type { StudyPlan } from "../../../src/study/plan/plan.ts";
import { runStudy, type StudyRun } from "../../../src/study/run.ts";
import { checkObservations } from "../../../src/survival/check-observations.ts";
import type { Observations } from "../../../src/survival/observations.ts";
import { inventedCases } from "../../technique/invented-cases.ts";
import { PLAN, smallStudy } from "../small-export.ts";

const FOR_ANALYSTS = [
  "times",
  "restricted-mean",
  "conditional-risk",
  "clustered-rates",
  "smoothed-hazard",
  "cumulative-hazard",
  "other-tests",
  "loss-bounds",
  "loss-at-years",
];

async function run(plan: Partial<StudyPlan> = {}): Promise<StudyRun> {
  const { study, source } = smallStudy(plan, { knees: 4000 });
  return runStudy(study, source);
}

const viewOf = (made: StudyRun) => clearedView(disclose(made.exhibits, "analyst"));

/** Height of a step curve at a tick. */
function heightAt(time: readonly number[], values: readonly number[], tick: number, start: number): number {
  const step = time.findLastIndex((one) => one <= tick);
  return step < 0 ? start : (values[step] ?? start);
}

describe("the same question by other measures", () => {
  it("names the one cause that its titles are about", async () => {
    const view = viewOf(await run());
    for (const id of ["times", "restricted-mean", "conditional-risk"]) {
      expect(view.table(id)?.title).toContain("revision for aseptic loosening");
    }
  });

  it("is in the analysts' copy alone, and the log of the others names what they do not get", async () => {
    const made = await run();
    const idsFor = (audience: "analyst" | "committee") =>
      disclose(made.exhibits, audience).exhibits.map(({ id }) => id);
    expect(idsFor("analyst")).toEqual(expect.arrayContaining(FOR_ANALYSTS));
    const committee = disclose(made.exhibits, "committee");
    expect(committee.exhibits.filter(({ id }) => FOR_ANALYSTS.includes(id))).toEqual([]);
    const kept = committee.log.filter(({ act }) => act === "in the analysts' copy alone");
    expect(kept.map(({ exhibit }) => exhibit)).toEqual(
      expect.arrayContaining(["model", "other-measures", "sensitivity"]),
    );
    expect(kept.map(({ title }) => title)).toContain("The same question by other measures");
    const page = reportFiles(made, committee).get("index.html") ?? "";
    expect(page).not.toMatch(/id="other-measures"|id="does-it-move"/);
  });

  it("agrees with the printed net curve: area to ten years, later risk over earlier, time to a share", async () => {
    // Identities: every one of these is read off the same Kaplan–Meier curve, written out here step by step.
    const made = await run({ clusters: "none" });
    const { survival } = made.estimates;
    const otherMeasures = made.estimates.otherMeasures();
    survival.groups.forEach((curve, group) => {
      const { toTick } = otherMeasures.restrictedMean.settings;
      let area = 0;
      for (let tick = 0; tick < toTick; tick += 1) area += heightAt(curve.time, curve.survival, tick, 1);
      const mean = otherMeasures.restrictedMean.groups[group];
      if (!mean?.computed) throw new Error("a mean was expected");
      expect(mean.years).toBeCloseTo(yearsOfTicks(area, survival.timeUnit), 9);

      if (!otherMeasures.conditional.computed) throw new Error("a curve was expected");
      const { settings, groups } = otherMeasures.conditional;
      const given = heightAt(curve.time, curve.survival, settings.from ?? 0, 1);
      const [five] = groups[group]?.atYears ?? [];
      if (!five?.computed) throw new Error("a value was expected");
      expect(five.value).toBeCloseTo(heightAt(curve.time, curve.survival, five.tick, 1) / given, 12);

      const time = otherMeasures.times[0]?.groups[group]?.time;
      if (!time?.computed) throw new Error("a time was expected");
      const first = curve.time[curve.survival.findIndex((share) => share <= 0.99 + 1e-12)];
      expect(time.estimate).toEqual(
        first === undefined
          ? { reached: false, followedTo: curve.followedTo }
          : { reached: true, tick: first },
      );

      const hazard = otherMeasures.cumulativeHazard.groups[group];
      const summed = curve.eventsAt.reduce((sum, events, at) => sum + events / (curve.atRisk[at] ?? 1), 0);
      expect(hazard?.hazard.at(-1)).toBeCloseTo(summed, 12);
    });
  });

  it("has the events and years of the exact rates in the clustered ones, with wider or other limits", async () => {
    const { estimates } = await run({ clusters: "surgeon" });
    const { clusteredRates } = estimates.otherMeasures();
    if (!clusteredRates.computed) throw new Error("rates were expected");
    const { periods, settings } = clusteredRates;
    expect(settings).toMatchObject({ clusteredBy: "surgeon", smallSample: "shares" });
    expect(periods.map(({ group, events, unitYears }) => [group, events, unitYears])).toEqual(
      estimates.rates.periods.map(({ group, events, unitYears }) => [group, events, unitYears]),
    );
    const alone = await run({ clusters: "none" });
    expect(alone.estimates.otherMeasures().clusteredRates).toMatchObject({ code: "no-clusters" });
    expect(viewOf(alone).table("clustered-rates")).toBeUndefined();
  });

  it("brackets the estimate between all of the lost revised and none of them", async () => {
    const { estimates } = await run();
    const loss = estimates.loss();
    if (!loss.computed || loss.risk !== "crude") throw new Error("crude bounds were expected");
    loss.estimate.curves.forEach(({ incidence }, group) => {
      const [seen, worst] = [incidence.at(-1) ?? 0, loss.worst.curves[group]?.incidence.at(-1) ?? 0];
      expect(worst).toBeGreaterThan(seen);
      expect(loss.groups[group]?.lost).toBe(
        estimates.followUp[group]?.lost.computed ? estimates.followUp[group].lost.units : undefined,
      );
    });
  });
});

describe("tests beside the log-rank", () => {
  it("has Gray's test always, and the others only where the plan declares them", async () => {
    const plain = await run();
    expect(viewOf(plain).table("other-tests")?.rows).toHaveLength(1);
    const weighted = await run({ weighting: { early: 0, late: 1 } });
    const rows = viewOf(weighted).table("other-tests")?.rows ?? [];
    expect(rows[1]?.label).toContain("late (1) differences");
    expect(rows[1]?.cells[1]?.values).toHaveLength(1);
  });

  it("tests a trend and each pair of three ordered groups", async () => {
    const made = await run({
      exposure: { field: "asa_grade", groups: ["1", "2", "3"] },
      groupsAreOrdered: true,
      endpoint: {
        ...PLAN.endpoint,
        event: { label: "any revision", revisionFor: "any" },
        competing: [{ label: "death", death: true }],
      },
    });
    const { trend, pairs } = made.estimates.otherTests();
    expect(trend?.computed && trend.settings.scores).toEqual([1, 2, 3]);
    expect(pairs).toHaveLength(3);
    const labels = viewOf(made)
      .table("other-tests")
      ?.rows.map(({ label }) => label);
    expect(labels).toHaveLength(5);
    expect(labels?.[1]).toMatch(/^Trend/);
  });

  it("gives a pair no p where one of the two expects under five events, and adjusts for the others alone", async () => {
    const made = await run({ exposure: { field: "asa_grade", groups: ["1", "2", "3"] }, clusters: "none" });
    const { pairs = [] } = made.estimates.otherTests();
    const refused = pairs.filter(({ test }) => !test.computed);
    expect(refused.length).toBeGreaterThan(0);
    for (const { test, adjustedP } of refused) {
      expect(test).toMatchObject({ code: "few-expected" });
      expect(adjustedP).toBeNull();
    }
    const tested = pairs.flatMap(({ test, adjustedP }) => (test.computed ? [[test.p, adjustedP ?? 0]] : []));
    // Holm: the smallest p times the number of pairs tested.
    const [p = 0, adjusted = 0] = tested.sort((a, b) => (a[0] ?? 0) - (b[0] ?? 0))[0] ?? [];
    expect(adjusted).toBeCloseTo(Math.min(1, p * tested.length), 12);
  });

  it("refuses an order of two groups, and weights that are none", () => {
    expect(() => defineStudy({ ...PLAN, groupsAreOrdered: true })).toThrow("at least three groups");
    expect(() => defineStudy({ ...PLAN, weighting: { early: -1, late: 0 } })).toThrow("weighting");
  });
});

describe("events against a table of rates", () => {
  const bands = ["female", "male"].map((sex) => ({
    sex,
    fromAge: 0,
    fromYear: 1990,
    toYear: 2060,
    per100: 0.1,
  }));

  it("expects the rate times the time followed where the rate is one for all", async () => {
    // Closed form: 0.1 per 100 knee-years times the knee-years of the group.
    const made = await run({ expectedRates: { source: "invented", bands } });
    const { followUp, compared } = made.estimates;
    const { expected } = made.estimates.otherMeasures();
    if (!expected?.computed) throw new Error("expected events were asked for");
    expect(expected.leftOut).toBe(0);
    expected.groups.forEach(({ observed, against }, group) => {
      if (!against.computed) throw new Error(against.code);
      expect(against.expected).toBeCloseTo((followUp[group]?.unitYears ?? 0) * 0.001, 9);
      expect(observed).toBe(compared[group]?.events.units);
    });
    expect(viewOf(made).table("expected")?.notes[0]).toContain("invented");
  });

  it("has no answer for follow-up in months, which birthdays and New Year are not", () => {
    const cases = inventedCases(
      [
        { name: "on", type: "date", role: "operationDate" },
        { name: "age", type: "number", role: "ageYears" },
        { name: "sex", type: "string", role: "sex", categories: [{ value: "female" }] },
      ],
      [["2010-01-01", "60", "female"]],
    );
    const months = checkObservations({ exit: [10], event: [1], timeUnit: TIME_UNITS.month });
    // Only the cause and the level are asked of the facts.
    const facts = { cause: "event", level: 0.95 } as StudyFacts;
    const ask = (observations: Observations) =>
      expectedByGroup(cases, { observations, rows: Int32Array.of(0) }, { source: "", bands }, facts);
    expect(ask(months)).toMatchObject({ computed: false, code: "not-in-days" });
    expect(ask(checkObservations({ exit: [10], event: [1] }))).toMatchObject({ computed: true });
  });

  it("says so where the table lacks a sex, and refuses a band that is none", async () => {
    const made = await run({ expectedRates: { source: "half a table", bands: bands.slice(0, 1) } });
    const { expected } = made.estimates.otherMeasures();
    expect(expected?.computed && expected.groups[0]?.against).toMatchObject({ code: "rates-missing" });
    const wrong = [{ ...(bands[0] ?? { sex: "", fromAge: 0, fromYear: 0, toYear: 0 }), per100: -1 }];
    expect(() => defineStudy({ ...PLAN, expectedRates: { source: "x", bands: wrong } })).toThrow("per100");
  });
});
