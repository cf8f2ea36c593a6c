import { describe, expect, it } from "vitest";
import { followUp } from "../../../src/cohort/follow-up.ts";
import { selectCohort } from "../../../src/cohort/select-cohort.ts";
import { partCounts } from "../../../src/study/feasibility/exhibits/step-counts.ts";
import { whereBothExhibit } from "../../../src/study/feasibility/exhibits/where-both.ts";
import { questionFeasibility } from "../../../src/study/feasibility/question.ts";
import { feasibilityRules } from "../../../src/study/feasibility/rules.ts";
import { personCodes } from "../../../src/technique/row-codes.ts";
import { stepStates } from "../../../src/technique/step-states.ts";
import { inventedCases } from "../../technique/invented-cases.ts";

const FIELDS = [
  { name: "patient", type: "string", role: "patientId" },
  { name: "surgeon", type: "string", role: "surgeon" },
  { name: "on", type: "date", role: "operationDate" },
  { name: "revised", type: "date", role: "revisionDate" },
  {
    name: "why",
    type: "string",
    role: "revisionReason",
    categories: [{ value: "loosening" }, { value: "infection" }],
  },
  { name: "died", type: "date", role: "deathDate" },
  {
    name: "bone",
    type: "string",
    role: "sclerosis",
    categories: [{ value: "soft" }, { value: "hard" }],
  },
  {
    name: "cuff",
    type: "string",
    role: "technique:tourniquet",
    categories: [
      { value: "y", state: "done" },
      { value: "n", state: "notDone" },
      { value: "x", state: "notApplicable" },
    ],
  },
] as const;

interface Row {
  readonly surgeon: string;
  readonly year: number;
  readonly cuff: string;
  readonly bone?: string;
  /** Years after the operation, on the same day of the year. */
  readonly revisedAfter?: number;
  /** Default: a patient of its own. */
  readonly patient?: string;
}

const ask = (rows: readonly Row[], asked: object = {}, own: object = {}) => {
  const cases = inventedCases(
    FIELDS,
    rows.map(({ surgeon, year, cuff, bone = "soft", revisedAfter, patient }, at) => [
      patient ?? `p${at}`,
      surgeon,
      `${year}-01-01`,
      revisedAfter === undefined ? "" : `${year + revisedAfter}-01-01`,
      revisedAfter === undefined ? "" : "loosening",
      "",
      bone,
      cuff,
    ]),
    { dataCut: "2024-01-01" },
  );
  const followed = followUp(cases, selectCohort(cases, []), {
    event: { label: "loosening", revisionFor: ["loosening"] },
    competing: [{ label: "death", death: true }],
    censoring: "dataCut",
  });
  return questionFeasibility(
    cases,
    followed,
    {
      title: "tourniquet",
      states: stepStates(cases, "tourniquet").states,
      stateLabels: ["with", "without", "not applicable", "not recorded"],
      matters: { ratio: 2 },
      year: 10,
      level: 0.05,
      periods: [],
      strata: [],
      crude: true,
      ...asked,
    },
    feasibilityRules(own),
    personCodes(cases),
  );
};

/** Copies of a row. */
const of = (count: number, row: Row): Row[] => Array.from({ length: count }, () => row);
const BOTH = [
  ...of(60, { surgeon: "a", year: 2012, cuff: "y" }),
  ...of(60, { surgeon: "a", year: 2012, cuff: "n" }),
  ...of(20, { surgeon: "b", year: 2012, cuff: "y", revisedAfter: 2 }),
  ...of(20, { surgeon: "b", year: 2012, cuff: "n", revisedAfter: 6 }),
];

describe("questionFeasibility()", () => {
  it("counts the events of both groups together, and turns them into the smallest ratio (closed form: e^(2.8016 · √(4/40)))", () => {
    const found = ask(BOTH);
    expect(found.compared.events.units).toBe(40);
    expect(found.compared.exposedShare).toBe(0.5);
    const { smallest } = found.compared;
    expect(smallest.computed && smallest.ratio).toBeCloseTo(Math.exp(2.801_585 * Math.sqrt(4 / 40)), 5);
    expect(found.verdict.kind).toBe("large");
  });

  it("counts the persons of the knees that a restriction leaves out, by hand: 6 knees, 4 of them revised, of 3 patients", () => {
    const pairs = [1, 1, 2, 2, 3, 3].map((patient, at) => ({
      ...{ surgeon: "c", year: 2016, cuff: "y", bone: "hard", patient: `both ${patient}` },
      ...(at < 4 ? { revisedAfter: 3 } : {}),
    }));
    const found = ask([...BOTH, ...pairs], { strata: ["role:sclerosis"] }, { nearlyAll: 1 });
    const outside = { size: { units: 6, persons: 3 }, events: { units: 4, persons: 2 } };
    expect(found.within?.outside).toMatchObject(outside);
    if (found.within === undefined) throw new Error("there is a restriction");
    const { restsOn } = partCounts(found, "events", found.within);
    expect(restsOn.filter(({ key }) => key.endsWith("/outside"))).toMatchObject([
      outside.size,
      outside.events,
    ]);
    const { relations = [] } = whereBothExhibit("where-both", {
      questions: [found],
      followed: { units: 166, persons: 163 },
      rules: feasibilityRules(),
      unit: { one: "knee", many: "knees" },
    });
    const others = relations.flatMap(({ parts }) => parts.filter(({ key }) => key.endsWith("/years/one")));
    expect(others).toMatchObject([outside.size]);
  });

  it("does not change when all events change their group: totals and shares are all it sees", () => {
    const { compared, verdict, years } = ask(BOTH);
    const turned = ask([
      ...of(20, { surgeon: "a", year: 2012, cuff: "y" }),
      ...of(20, { surgeon: "a", year: 2012, cuff: "y", revisedAfter: 2 }),
      ...of(20, { surgeon: "a", year: 2012, cuff: "y", revisedAfter: 6 }),
      ...of(60, { surgeon: "a", year: 2012, cuff: "n" }),
      ...of(20, { surgeon: "b", year: 2012, cuff: "y" }),
      ...of(20, { surgeon: "b", year: 2012, cuff: "n" }),
    ]);
    expect(turned.compared).toEqual(compared);
    expect(turned.verdict).toEqual(verdict);
    expect(turned.years).toEqual(years);
  });

  it("counts only its own events for a period", () => {
    const { periods } = ask(BOTH, { periods: [3, 5] });
    expect(periods.map(({ events }) => events.units)).toEqual([20, 0, 20]);
    expect(periods[1]?.smallest).toMatchObject({ computed: false, code: "no-events" });
  });

  it("counts planned comparisons in: a smaller level needs a larger ratio", () => {
    const [one, twelve] = [0.05, 0.05 / 12].map((level) => ask(BOTH, { level }).compared.smallest);
    if (!one?.computed || !twelve?.computed) throw new Error("both have an answer");
    expect(twelve.ratio).toBeGreaterThan(one.ratio);
  });

  it("widens the ratio by the design effect where a step is fixed within surgeon, and not else (by hand: m = 40, 1 + 39 · 0.01)", () => {
    const surgeons = Array.from({ length: 12 }, (_, at) => `s${at}`);
    const fixed = surgeons.flatMap((surgeon, at) => [
      ...of(38, { surgeon, year: 2012, cuff: at < 6 ? "y" : "n" }),
      ...of(2, { surgeon, year: 2012, cuff: at < 6 ? "y" : "n", revisedAfter: 3 }),
    ]);
    const found = ask(fixed, {}, { intraclass: 0.01 });
    expect(found.variation.fixed).toBe(true);
    expect(found.designFactor).toMatchObject({ computed: true, factor: 1 + 39 * 0.01 });
    const { smallest } = found.compared;
    expect(smallest.computed && smallest.ratio).toBeCloseTo(
      Math.exp(2.801_585 * Math.sqrt((1.39 * 4) / 24)),
      5,
    );
    expect(ask(BOTH).designFactor).toBeUndefined();
  });

  it("cannot tell a step from the surgeon where hardly anyone does both and few do the rarer one", () => {
    const rows = ["s1", "s2", "s3", "s4", "s5", "s6"].flatMap((surgeon, at) => [
      ...of(40, { surgeon, year: 2012, cuff: at < 2 ? "n" : "y", revisedAfter: 3 }),
    ]);
    expect(ask(rows).verdict).toMatchObject({ kind: "no", code: "surgeon-alone" });
    expect(ask(rows, {}, { leastSurgeons: 2 }).verdict.kind).not.toBe("no");
  });

  it("keeps to the periods and strata in which both were done, with their events alone", () => {
    const late = of(50, { surgeon: "b", year: 2020, cuff: "y", revisedAfter: 1, bone: "hard" });
    const found = ask([...BOTH, ...late]);
    expect(found.verdict.within).toEqual(["operations of 2012–2014"]);
    expect(found.within?.events.units).toBe(40);
    expect(found.compared.events.units).toBe(90);
    expect(ask([...BOTH, ...late], { strata: ["role:sclerosis"] }).verdict.within).toEqual([
      "operations of 2012–2014",
      "bone: soft",
    ]);
  });

  it("says how many years it takes at the volume of those compared, or that nobody waits so long", () => {
    const spread = [
      ...BOTH,
      ...of(5, { surgeon: "a", year: 2016, cuff: "y" }),
      ...of(5, { surgeon: "a", year: 2016, cuff: "n" }),
    ];
    const found = ask(spread);
    if (!found.years.computed || !found.needed.computed) throw new Error("it has an answer");
    expect(found.years.years).toBeGreaterThan(4);
    expect(found.years.settings.unitsPerYear).toBeCloseTo(170 / (1462 / 365.25), 9);
    expect(ask(spread, { matters: { ratio: 1.01 } }).years).toMatchObject({ code: "too-long" });
  });

  it.each<[string, readonly Row[], string]>([
    ["nothing recorded", of(30, { surgeon: "a", year: 2012, cuff: "" }), "not-recorded"],
    ["one group", of(30, { surgeon: "a", year: 2012, cuff: "y", revisedAfter: 1 }), "one-group"],
    [
      "no events",
      [
        ...of(30, { surgeon: "a", year: 2012, cuff: "y" }),
        ...of(30, { surgeon: "a", year: 2012, cuff: "n" }),
      ],
      "no-events",
    ],
    ["one surgeon a knee", BOTH.map((row, at) => ({ ...row, surgeon: `s${at}` })), "large-difference"],
  ])("answers in words, and never with an infinite number: %s", (_words, rows, code) => {
    const found = ask(rows);
    expect(found.verdict.code).toBe(code);
    const numbers: number[] = [];
    JSON.stringify(found, (_key, value) => {
      if (typeof value === "number") numbers.push(value);
      return value;
    });
    expect(numbers.every((value) => Number.isFinite(value) && value >= 0)).toBe(true);
  });
});
