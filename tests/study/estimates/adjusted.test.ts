import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { disclose } from "../../../src/disclosure/disclose.ts";
import { coxRegression } from "../../../src/regression/cox-regression.ts";
import { clusterCorrection } from "../../../src/study/estimates/cluster-correction.ts";
import { firstOver } from "../../../src/study/estimates/first-over.ts";
import { reportFiles } from "../../../src/study/making/report-files.ts";
import { clearedView } from "../../../src/study/making/view.ts";
import { loadNotebook } from "../../../src/study/notebook/load-notebook.ts";
import { defineStudy } from "../../../src/study/plan/define-study.ts";
import type { Adjuster, StudyPlan } from "../../../src/study/plan/plan.ts";
import { runStudy, type StudyRun } from "../../../src/study/run.ts";
import { fewClustersCaution } from "../../../src/study/sections/few-clusters.ts";
import { modelFactsExhibit } from "../../../src/study/sections/model-facts.ts";
import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { logRankTest } from "../../../src/survival/log-rank-test.ts";
import { PLAN, smallStudy } from "../small-export.ts";

/** Its tourniquet effect turns with the years: that was planted. */
const NOTEBOOK = join(import.meta.dirname, "../../../notebooks/tourniquet-and-loosening.ts");
const AGE: Adjuster = { field: "role:ageYears", settled: "before", reason: "younger knees are used harder" };
const SEX: Adjuster = { field: "role:sex", settled: "before", reason: "loads differ" };
const BMI: Adjuster = { field: "role:bmi", settled: "before", reason: "load" };
/** Any revision, so that a small export has events to fit. */
const ANY: StudyPlan["endpoint"] = {
  event: { label: "any revision", revisionFor: "any" },
  competing: [{ label: "death", death: true }],
  censoring: "dataCut",
};

async function run(plan: Partial<StudyPlan> = {}, knees = 4000): Promise<StudyRun> {
  const { study, source } = smallStudy({ endpoint: ANY, ...plan }, { knees });
  return runStudy(study, source);
}

/** The same export without captured deaths: crude risk is then out of reach. */
async function smallRunWithoutDeaths(): Promise<StudyRun> {
  const withoutCapture = (descriptor: Record<string, unknown>) => ({
    ...descriptor,
    study: { ...(descriptor.study as Record<string, unknown>), deathCapture: "unknown" },
  });
  const { study, source } = smallStudy(
    { endpoint: { ...ANY, censoring: "lastContact" } },
    { knees: 2500, descriptor: withoutCapture },
  );
  return runStudy(study, source);
}

function modelOf({ estimates }: StudyRun, which: "alone" | "adjusted") {
  const model = estimates.adjusted[which];
  if (!model.computed) throw new Error(model.code);
  return model;
}

function ratioOf(made: StudyRun, which: "alone" | "adjusted", other = 1) {
  const { fit } = modelOf(made, which);
  const ratio = firstOver(fit.columns, made.estimates.adjusted.groupTerm, made.facts.groups, other);
  if (!ratio.computed) throw new Error(ratio.code);
  return ratio;
}

const cell = (made: StudyRun, row: string, column: string) =>
  clearedView(disclose(made.exhibits, "analyst")).cell("hazard-ratios", row, column);

describe("the groups' hazard ratios", () => {
  it("point the way of the log-rank test, and are nearly its answer where nothing is adjusted", async () => {
    // Published identity: without ties the score test is the log-rank; days tie rarely, so the two are close.
    const made = await run({ clusters: "none" });
    const { estimates } = made;
    const { plain } = estimates.logRank;
    const { fit } = modelOf(made, "alone");
    if (!plain.computed) throw new Error(plain.code);
    if (!fit.score.computed) throw new Error(fit.score.code);
    expect(Math.abs(fit.score.chiSquare / plain.chiSquare - 1)).toBeLessThan(0.02);
    const [first] = plain.groups;
    const isHigher = (first?.observed ?? 0) > (first?.expected ?? 0);
    expect(ratioOf(made, "alone").ratio > 1).toBe(isHigher);
    expect(fit.events).toBe(estimates.compared.reduce((sum, { events }) => sum + events.units, 0));
  });

  it("turn over when the groups change places, and do not move when the adjusters do", async () => {
    const exposure = (groups: string[]) => ({ exposure: { field: "tourniquet", groups } });
    const [one, other] = [
      await run({ ...exposure(["yes", "no"]), adjusters: [AGE, SEX] }),
      await run({ ...exposure(["no", "yes"]), adjusters: [SEX, AGE] }),
    ];
    expect(ratioOf(one, "adjusted").ratio * ratioOf(other, "adjusted").ratio).toBeCloseTo(1, 6);
    expect(ratioOf(one, "adjusted").lower * ratioOf(other, "adjusted").upper).toBeCloseTo(1, 6);
  });

  it("rest on the same rows alone and adjusted, and every row lost is counted with its reason", async () => {
    const made = await run({ adjusters: [AGE, BMI] });
    const { adjusted, compared } = made.estimates;
    const all = compared.reduce((sum, { units }) => sum + units, 0);
    const lost = adjusted.lost.reduce((sum, { rows }) => sum + rows, 0);
    expect(lost).toBeGreaterThan(0);
    const used = adjusted.rows.sizes.reduce((sum, { units }) => sum + units, 0);
    expect(used + lost).toBe(all);
    expect(modelOf(made, "alone").fit.rows).toBe(modelOf(made, "adjusted").fit.rows);
  });

  it("print the average only with the periods beside it, and the same number as the model", async () => {
    const made = await run({ adjusters: [AGE] });
    const { ratio, lower, upper } = ratioOf(made, "adjusted");
    const printed = cell(made, "all years", "adjusted")?.values ?? [];
    [ratio, lower, upper].forEach((value, at) => {
      expect(printed[at]).toBeCloseTo(value, 10);
    });
    const rows = clearedView(disclose(made.exhibits, "committee")).table("hazard-ratios")?.rows ?? [];
    expect(rows.map(({ label }) => label).slice(2)).toEqual([
      "all years",
      "0–3 years",
      "3–5 years",
      "over 5 years",
      "change between periods, p",
    ]);
    const brief = reportFiles(made, disclose(made.exhibits, "committee")).get("index.html") ?? "";
    expect(brief).toMatch(/Hazard ratio, with over without, adjusted .*all years .*0–3 years /);
  });

  it("stand beside those of every other cause, from a model of its own", async () => {
    const made = await run({ adjusters: [AGE] });
    const causes = made.estimates.adjusted.causes();
    expect(causes.map(({ cause }) => cause)).toEqual(["any revision", "death"]);
    const death = causes[1]?.fit;
    expect(death?.computed && death.settings.event).toEqual(["death"]);
    expect(causes[0]?.fit).toEqual(modelOf(made, "adjusted").fit);
  });

  it("stand beside the penalised and the crude-risk fit of the same model, each with what it is for", async () => {
    const enough = await run({ adjusters: [AGE] });
    expect(enough.estimates.adjusted.others().penalised).toMatchObject({ code: "enough-events" });
    // Six columns bring the events for each coefficient below ten.
    const made = await run(
      { adjusters: [AGE, { ...SEX, field: "role:asaGrade" }, { ...BMI, field: "role:sclerosis" }] },
      1400,
    );
    const { penalised, fineGray } = made.estimates.adjusted.others();
    if (!penalised.computed) throw new Error(penalised.code);
    if (!fineGray.computed) throw new Error(fineGray.code);
    const found = firstOver(penalised.columns, made.estimates.adjusted.groupTerm, made.facts.groups, 1);
    if (!found.computed) throw new Error(found.code);
    // The penalty pulls towards 1, and not far.
    expect(Math.abs(Math.log(found.ratio / ratioOf(made, "adjusted").ratio))).toBeLessThan(0.2);
    expect(fineGray.settings.cause).toBe("any revision");
    expect(fineGray.settings.clusters?.word).toBe(made.facts.clusters.by);
    const rows = clearedView(disclose(made.exhibits, "analyst")).table("other-fits")?.rows ?? [];
    expect(rows.map(({ cells }) => cells[2]?.text).slice(1)).toHaveLength(rows.length - 1);
    expect(rows[3]?.cells[2]?.text).toContain("prediction of crude risk");
    const bySurgeon = await run({ adjusters: [AGE], clusters: "surgeon" });
    const { frailty, within } = bySurgeon.estimates.adjusted.others();
    expect(frailty.computed && frailty.settings.cluster).toBe("surgeon");
    expect(within.computed && within.cluster).toBe("surgeon");
    // Common practice, no source: both knees of twenty patients revised before a patient's frailty is looked for.
    const patients = (await run({ clusters: "patient" })).estimates.adjusted.others();
    expect(patients.frailty).toMatchObject({ computed: false });
    expect(patients.within).toMatchObject({ code: "not-by-surgeon" });
    const uncaptured = await smallRunWithoutDeaths();
    expect(uncaptured.estimates.adjusted.others().fineGray).toMatchObject({ computed: false });
  });

  it("mean a difference in people that has the sign of the ratio", async () => {
    const made = await run({ adjusters: [AGE] });
    const { differences } = modelOf(made, "adjusted");
    const year = differences.computed ? differences.years[0] : undefined;
    const [difference] = year?.computed ? year.differences : [];
    if (!difference?.computed) throw new Error("a difference was expected");
    // Later group less the first.
    expect(Math.sign(-difference.estimate)).toBe(Math.sign(Math.log(ratioOf(made, "adjusted").ratio)));
  });
});

describe("few events and bad plans", () => {
  it("gives rates only below five events in a group or for each coefficient, and says so", async () => {
    const few = await run({ endpoint: PLAN.endpoint, adjusters: [AGE] }, 600);
    expect(few.estimates.adjusted.alone).toMatchObject({ computed: false, code: "few-events" });
    const text = cell(few, "all years", "adjusted")?.text;
    expect(text).toContain("rates only");
    // With so few nothing can be compared, so only what would let it be compared is left to decide.
    const page = reportFiles(few, disclose(few.exhibits, "committee")).get("index.html") ?? "";
    expect(page).toContain("cannot be compared, because");
    expect(page).toMatch(/Record better[\s\S]*Collect longer/);
    expect(page).not.toMatch(/No change|<span>Review the data/);
    const ten = [
      "role:asaGrade",
      "role:sclerosis",
      "role:operatorGrade",
      "role:viscosity",
      "role:cementCode",
      "role:implantCode",
    ];
    const many = ten.map((field): Adjuster => ({ field, settled: "before", reason: "to have many" }));
    const thin = await run({ adjusters: [AGE, SEX, BMI, ...many] }, 2500);
    expect(thin.estimates.adjusted.alone.computed).toBe(true);
    expect(thin.estimates.adjusted.adjusted).toMatchObject({ code: "few-events-per-coefficient" });
  });

  it("refuses what is settled during or after the step, or is the step itself, naming it", () => {
    const plan = (adjuster: Partial<Adjuster>) => () =>
      defineStudy({ ...PLAN, adjusters: [{ ...AGE, ...adjuster }] });
    expect(plan({ settled: "during" })).toThrow(/role:ageYears.*settled during the step/);
    expect(plan({ settled: "after" })).toThrow("settled after the step");
    expect(plan({ field: "role:technique:tourniquet" })).toThrow("what the groups are made of");
    expect(plan({ curve: true, reference: "a" })).toThrow("keep one");
    expect(() => defineStudy({ ...PLAN, adjusters: [AGE, AGE] })).toThrow("twice");
    expect(plan({ reason: " " })).toThrow("reason");
  });

  it("refuses a field that cannot adjust: text, a curve of codes, a reference of numbers, an unknown level", async () => {
    const tries: [Partial<Adjuster>, RegExp][] = [
      [{ field: "role:patientId" }, /free text or an identifier/],
      [{ field: "role:stemm" }, /stemm/],
      [{ field: "role:sex", curve: true }, /have no curve; leave it out/],
      [{ reference: "female" }, /holds no codes, so nothing to compare with; leave it out/],
      [
        { field: "role:sex", reference: "green" },
        /adjusters\[0\]\.reference: "green" is no code of field "sex"/,
      ],
    ];
    for (const [adjuster, message] of tries) {
      await expect(run({ adjusters: [{ ...AGE, ...adjuster }] }, 300)).rejects.toThrow(message);
    }
  });

  it("says that nothing is adjusted for where the plan names nothing", async () => {
    const made = await run();
    expect(made.estimates.adjusted.adjusted).toMatchObject({ code: "no-adjusters" });
    const table = clearedView(disclose(made.exhibits, "committee")).table("hazard-ratios");
    expect(table?.columns).toHaveLength(2);
  });
});

describe("the adjusted model of the run", () => {
  it("tells the largest influence of a million independent rows", async () => {
    const made = await run({}, 1300);
    const { adjusted } = made.estimates;
    const found = adjusted.checks();
    if (!found.computed || !found.influence.computed) throw new Error("influence was expected");
    const largest = Array.from({ length: 1_000_000 }, (_, row) => (row === 7 ? 0.9 : 0.1));
    const checks = { ...found, influence: { ...found.influence, largest } };
    const { rows } = modelFactsExhibit({ ...adjusted, checks: () => checks }, made.facts);
    const row = rows.find(({ label }) => label.startsWith("Largest change"));
    expect(row?.cells[0]).toMatchObject({ value: 0.9 });
  });

  it("is coxRegression() of the compared rows, clustered as the study is", async () => {
    const made = await run({ clusters: "surgeon" });
    const { fit } = modelOf(made, "alone");
    expect(fit.settings).toMatchObject({
      variance: "clustered",
      clusteredBy: ["surgeon"],
      smallSample: "shares",
    });
    const ratio = fit.columns[0]?.hazardRatio;
    const freedom = ratio?.computed ? (ratio.degreesOfFreedom ?? 0) : 0;
    expect(freedom).toBeGreaterThan(1);
    expect(freedom).toBeLessThan(fit.settings.clusters[0] ?? 0);
  });

  it("corrects each cluster where they are few, and by their number where they are many", async () => {
    const made = await run({ clusters: "patient" }, 1300);
    expect(made.facts.clusters.fewestInGroup).toBeGreaterThan(100);
    expect(modelOf(made, "alone").fit.settings.smallSample).toBe("clusters");
    // Few in one group are few, whatever stands against them.
    const few = { ...made.facts, clusters: { ...made.facts.clusters, fewestInGroup: 99 } };
    expect(clusterCorrection(few)).toBe("shares");
    expect(clusterCorrection({ ...few, clusters: { ...few.clusters, fewestInGroup: 100 } })).toBe("clusters");
    expect(clusterCorrection({ ...few, clusters: { ...few.clusters, by: "none" } })).toBe("none");
  });

  it("is not fitted between clusters where a group rests on one of them, and the caution says so", async () => {
    const oneUser = (text: string) => {
      const [header = "", ...lines] = text.split("\n");
      const [step, surgeon] = ["tourniquet", "surgeon"].map((name) => header.split(",").indexOf(name));
      const merged = lines.map((line) => {
        const cells = line.split(",");
        if (cells[step ?? 0] === "yes") cells[surgeon ?? 0] = "S01";
        else if (cells[surgeon ?? 0] === "S01") cells[surgeon ?? 0] = "S02";
        return cells.join(",");
      });
      return [header, ...merged].join("\n");
    };
    const { study, source } = smallStudy(
      { endpoint: ANY, clusters: "surgeon" },
      { knees: 2000, csv: oneUser },
    );
    const made = await runStudy(study, source);
    expect(made.facts.clusters.fewestInGroup).toBe(1);
    const { alone, causes, others } = made.estimates.adjusted;
    const { fineGray, frailty } = others();
    for (const answer of [alone, ...causes().map(({ fit }) => fit), fineGray, frailty]) {
      expect(answer).toMatchObject({ code: "too-few-clusters" });
    }
    for (const answer of made.estimates.pairs.flatMap(({ crude, net }) => [...crude, ...net])) {
      expect(answer).toMatchObject({ code: "too-few-clusters" });
    }
    expect(fewClustersCaution(made.facts)).toMatchObject([
      { text: expect.stringContaining("a single surgeon") },
    ]);
    const withClusters = (fewestInGroup: number) =>
      fewClustersCaution({ ...made.facts, clusters: { ...made.facts.clusters, fewestInGroup } });
    expect(withClusters(4)).toMatchObject([{ text: expect.stringContaining("fewer than 10 surgeons") }]);
    expect(withClusters(10)).toEqual([]);
  });

  it("agrees with a hand-made two-group model", () => {
    // Identity on small rows without ties: the score test is the log-rank test.
    const rows = {
      exit: [1, 2, 3, 4, 5, 6, 7, 8],
      event: [1, 1, 0, 1, 1, 0, 1, 0],
      group: { codes: [0, 1, 0, 0, 1, 1, 0, 1], labels: ["a", "b"] },
    };
    const matrix = {
      rows: Int32Array.from(rows.exit.keys()),
      columns: [{ name: "b", values: Float64Array.from(rows.group.codes) }],
      terms: [{ name: "group", kind: "category" as const, from: 0, columns: 1, reference: "a" }],
      lost: [],
    };
    const [fit, test] = [coxRegression(rows, matrix), logRankTest(countsByTime(rows))];
    if (!fit.computed || !test.computed || !fit.score.computed) throw new Error("all can be computed");
    expect(fit.score.chiSquare).toBeCloseTo(test.chiSquare, 10);
  });
});

/** The table with one field blanked where a row meets a condition on its fields. */
function blanked(field: string, where: (cell: (name: string) => string) => boolean) {
  return (text: string): string => {
    const [header = "", ...rows] = text.trimEnd().split("\n");
    const names = header.split(",");
    const out = rows.map((row) => {
      const cells = row.split(",");
      if (where((name) => cells[names.indexOf(name)] ?? "")) cells[names.indexOf(field)] = "";
      return cells.join(",");
    });
    return `${[header, ...out].join("\n")}\n`;
  };
}

async function runBlanked(
  csv: (text: string) => string,
  plan: Partial<StudyPlan> = { adjusters: [AGE, BMI] },
): Promise<StudyRun> {
  const { study, source } = smallStudy({ endpoint: ANY, ...plan }, { knees: 4000, csv });
  return runStudy(study, source);
}

describe("values missing where it matters", () => {
  it("asks for the fewest events among the rows of the model, not among all compared", async () => {
    // All but a few revised knees of one group lose their body-mass index.
    let kept = 0;
    const csv = blanked("bmi", (cell) => {
      const isRevised = cell("tourniquet") === "no" && cell("revision_date") !== "";
      if (isRevised) kept += 1;
      return isRevised && kept > 3;
    });
    const made = await runBlanked(csv);
    expect(made.estimates.compared[1]?.events.units).toBeGreaterThan(10);
    expect(made.estimates.adjusted.adjusted).toMatchObject({ code: "few-events" });
    // The groups alone then rest on everybody.
    expect(made.estimates.adjusted.rows.isEverybody).toBe(true);
    expect(made.estimates.adjusted.alone.computed).toBe(true);
  });

  it("answers for the groups alone where one of them, or a level, has no complete row, and does not stop", async () => {
    const made = await runBlanked(blanked("bmi", (cell) => cell("tourniquet") === "no"));
    expect(made.estimates.adjusted.adjusted).toMatchObject({ code: "values-missing" });
    expect(made.estimates.adjusted.alone.computed).toBe(true);
    const text = cell(made, "all years", "adjusted")?.text;
    expect(text).toContain("every value recorded");
  });

  it("never gives one group's difference to another where a group has no complete row", async () => {
    const centres = await runBlanked(
      blanked("bmi", (cell) => cell("centre") === "C2"),
      {
        exposure: { field: "centre", groups: ["C1", "C2", "C3"] },
        adjusters: [BMI],
        clusters: "none",
      },
    );
    const { adjusted } = centres.estimates.adjusted;
    const table = clearedView(disclose(centres.exhibits, "analyst")).table("standardised");
    const at = (heading: string) => {
      const place = table?.rows.findIndex(({ label }) => label === heading) ?? 0;
      return table?.rows[place + 1]?.cells[1];
    };
    // A group without events in the model is under the floor, so nothing is shown of it at all.
    expect(adjusted).toMatchObject({ computed: false, code: "few-events" });
    expect(at("C1 minus C2")?.values).toEqual([]);
    expect(at("C1 minus C3")?.values).toEqual([]);
  });

  it("refuses an adjuster that says the same as the groups, and names it", async () => {
    const made = await run({
      exposure: { field: "tourniquet", groups: ["yes", "no"] },
      adjusters: [AGE, { field: "role:technique:pulsedLavage", settled: "before", reason: "to be tried" }],
    });
    expect(made.estimates.adjusted.adjusted.computed).toBe(true);
    const copied = (text: string) => {
      const [header = "", ...rows] = text.trimEnd().split("\n");
      const names = header.split(",");
      const [from, to] = [names.indexOf("tourniquet"), names.indexOf("lavage")];
      const words = { yes: "pulsed", no: "syringe" } as Readonly<Record<string, string>>;
      const out = rows.map((row) => {
        const cells = row.split(",");
        cells[to] = words[cells[from] ?? ""] ?? "";
        return cells.join(",");
      });
      return `${[header, ...out].join("\n")}\n`;
    };
    const same = await runBlanked(copied, {
      exposure: { field: "tourniquet", groups: ["yes", "no"] },
      adjusters: [AGE, { field: "role:technique:pulsedLavage", settled: "before", reason: "to be tried" }],
    });
    expect(same.estimates.adjusted.adjusted).toMatchObject({ code: "adjuster-doubled" });
  });

  it("counts the knees of the model for every reader, as long as those left out are not few", async () => {
    const made = await run({ adjusters: [BMI] });
    const row = clearedView(disclose(made.exhibits, "committee")).table("hazard-ratios")?.rows[0];
    const used = made.estimates.adjusted.rows.sizes.reduce((sum, { units }) => sum + units, 0);
    expect(row?.label).toBe("Knees in the model");
    expect(row?.cells.map(({ values }) => values[0])).toEqual([used, used]);
  });
});

describe("the standardised difference", () => {
  it("stops where the curves stop, and warns where the periods point both ways", async () => {
    const made = await run({ years: [5, 16], adjusters: [AGE] });
    const table = clearedView(disclose(made.exhibits, "analyst")).table("standardised");
    expect(table?.rows[2]?.cells[1]?.values).toEqual([]);
    const { byPeriod } = modelOf(made, "adjusted");
    const sides = byPeriod.computed
      ? byPeriod.periods.map(({ columns }) => {
          const ratio = firstOver(columns, made.estimates.adjusted.groupTerm, made.facts.groups, 1);
          return ratio.computed ? Math.sign(Math.log(ratio.ratio)) : 0;
        })
      : [];
    const page = reportFiles(made, disclose(made.exhibits, "analyst")).get("index.html") ?? "";
    const warns = page.includes("lie on both sides of 1");
    expect(warns).toBe(sides.includes(1) && sides.includes(-1));
    expect(table?.title.includes("which the periods speak against")).toBe(warns);
  });

  it("is not handed to a committee where it can have the wrong sign, in no file of the report", async () => {
    const { declared, source } = await loadNotebook(NOTEBOOK);
    if (declared.kind !== "study") throw new Error("a study was expected");
    const demo = await runStudy(declared, source);
    const files = reportFiles(demo, disclose(demo.exhibits, "committee"));
    expect(files.get("index.html")).toContain("and is not given");
    expect([...files.keys()]).not.toContain("tables/standardised.csv");
    expect(files.get("results.json")).not.toContain('"standardised"');
    const analysts = reportFiles(demo, disclose(demo.exhibits, "analyst"));
    expect(analysts.get("tables/standardised.csv")).toContain("at 10 years");
    expect(analysts.get("index.html")).toContain("committees are not given them");
  });
});

describe("the forms of the adjusters", () => {
  it("are checked for every number, a date by its calendar years, and for no code", async () => {
    const date: Adjuster = { field: "role:operationDate", settled: "before", reason: "habits drift" };
    const made = await run({ adjusters: [{ ...AGE, curve: true }, SEX, date] });
    const forms = made.estimates.adjusted.forms();
    expect(forms.map(({ isCurve }) => isCurve)).toEqual([true, false]);
    for (const { course, curved } of forms) {
      expect(course.computed && curved.computed && curved.degreesOfFreedom).toBe(2);
    }
    const view = clearedView(disclose(made.exhibits, "analyst"));
    const [age, operated] = [view.lines("form-1"), view.lines("form-2")];
    expect(age?.title).toMatch(/as a curve$/);
    expect(operated?.title).toMatch(/as a straight line$/);
    expect(operated?.acrossFrom).toBeGreaterThan(2000);
    expect(operated?.notes.join(" ")).toMatch(/a curve \(four knots\) .* on 2 degrees of freedom, p /);
    expect(clearedView(disclose(made.exhibits, "committee")).lines("form-1")).toBeUndefined();
    expect((await run()).estimates.adjusted.forms()).toEqual([]);
  });
});
