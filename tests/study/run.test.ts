import { describe, expect, it } from "vitest";
import { UsageError } from "../../src/base/errors.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import { reportFiles } from "../../src/study/making/report-files.ts";
import type { StudyPlan } from "../../src/study/plan/plan.ts";
import { runStudy } from "../../src/study/run.ts";
import type { SyntheticOptions } from "../../src/synthetic/synthetic-options.ts";
import { smallStudy } from "./small-export.ts";

async function run(plan: Partial<StudyPlan> = {}, options: Parameters<typeof smallStudy>[1] = {}) {
  const { study, source } = smallStudy(plan, options);
  return runStudy(study, source);
}

/** No event of any kind: every revision column is emptied. */
const withoutRevisions = (text: string) =>
  blankFields(text, ["revision_date", "revision_reason", "loosened_component"]);

function blankFields(text: string, names: readonly string[]): string {
  const [header = "", ...rows] = text.trimEnd().split("\n");
  const places = header.split(",").flatMap((name, at) => (names.includes(name) ? [at] : []));
  const blanked = rows.map((row) =>
    row
      .split(",")
      .map((cell, at) => (places.includes(at) ? "" : cell))
      .join(","),
  );
  return `${[header, ...blanked].join("\n")}\n`;
}

describe("runStudy()", () => {
  it("puts every knee of the cohort into a group, or among those not compared, or says why it is out", async () => {
    const { estimates } = await run();
    const left = estimates.attrition.at(-1)?.leftUnits ?? 0;
    const placed = [...estimates.compared, ...estimates.notCompared].reduce(
      (sum, group) => sum + group.units,
      0,
    );
    expect(placed + estimates.leftOut.units).toBe(left);
  });

  it("counts the same events in the groups, the curves, the rates and the test", async () => {
    const { estimates } = await run({}, { knees: 4000 });
    const events = estimates.compared.map((group) => group.events.units);
    expect(events.reduce((sum, one) => sum + one, 0)).toBeGreaterThan(5);
    expect(estimates.survival.groups.map((group) => group.events)).toEqual(events);
    const rates = estimates.compared.map(({ label }) =>
      estimates.rates.periods
        .filter(({ group }) => group === label)
        .reduce((sum, period) => sum + period.events, 0),
    );
    expect(rates).toEqual(events);
    expect(
      estimates.logRank.plain.computed && estimates.logRank.plain.groups.map(({ observed }) => observed),
    ).toEqual(events);
    for (const group of estimates.compared) {
      expect(group.eventsByPeriod.reduce((sum, one) => sum + one.units, 0)).toBe(group.events.units);
    }
  });

  const refusals: [string, Partial<StudyPlan>, Parameters<typeof smallStudy>[1], RegExp][] = [
    ["a step the export does not hold", { exposure: { step: "notAStep" as never } }, {}, /notAStep/],
    [
      "a field the export does not hold",
      { exposure: { field: "no_such", groups: ["a", "b"] } },
      {},
      /no_such/,
    ],
    [
      "a group code the dictionary does not hold",
      { exposure: { field: "sex", groups: ["female", "green"] } },
      {},
      /green/,
    ],
    ["a covariate the export does not hold", { covariates: ["role:stemm"] }, {}, /stemm/],
    ["a covariate that is an identifier", { covariates: ["role:patientId"] }, {}, /identifier/],
    [
      "rules that leave nobody",
      { eligibility: [{ label: "over 200 years old", field: "role:ageYears", from: 200 }] },
      {},
      /over 200 years old/,
    ],
    [
      "a reason for revision the dictionary does not hold",
      { endpoint: { event: { label: "rust", revisionFor: ["rust"] }, competing: [], censoring: "dataCut" } },
      {},
      /rust/,
    ],
    [
      "following to the data cut without national capture",
      {},
      { descriptor: (one) => ({ ...one, study: { ...(one.study as object), revisionCapture: "ownUnit" } }) },
      /lastContact/,
    ],
    [
      "an export with errors",
      {},
      { csv: (text) => text.replace(/20\d\d-\d\d-\d\d/, "soon") },
      /has 1 error|has \d+ errors/,
    ],
  ];
  it.each(refusals)("refuses %s with a message that names it", async (_what, plan, options, message) => {
    const error = await run(plan, options).catch((thrown: unknown) => thrown);
    expect(error).toBeInstanceOf(UsageError);
    expect(String(error)).toMatch(message);
    expect(String(error)).not.toMatch(/undefined|NaN/);
  });

  it("refuses a group that holds nobody", async () => {
    const everyoneYes = (text: string) => {
      const [header = "", ...rows] = text.trimEnd().split("\n");
      const place = header.split(",").indexOf("tourniquet");
      const same = rows.map((row) =>
        row
          .split(",")
          .map((cell, at) => (at === place ? "yes" : cell))
          .join(","),
      );
      return `${[header, ...same].join("\n")}\n`;
    };
    await expect(run({}, { csv: everyoneYes })).rejects.toThrow(/nobody.*without/);
  });
});

describe("a report", () => {
  const render = async (
    plan: Partial<StudyPlan>,
    options: Parameters<typeof smallStudy>[1],
    audience: "committee" | "analyst",
  ) => {
    const made = await run(plan, options);
    return reportFiles(made, disclose(made.exhibits, audience));
  };
  const limits: [string, Partial<StudyPlan>, SyntheticOptions & { csv?: (text: string) => string }][] = [
    ["without any revision", {}, { csv: withoutRevisions }],
    ["of a handful of knees", {}, { knees: 60, surgeons: 2, centres: 1 }],
    ["that looks beyond all follow-up", { years: [5, 40] }, {}],
    [
      "without periods, covariates or competing outcomes",
      {
        periods: [],
        covariates: [],
        endpoint: {
          event: { label: "any revision", revisionFor: "any" },
          competing: [],
          censoring: "dataCut",
        },
      },
      {},
    ],
    ["of three groups", { exposure: { field: "role:centre", groups: ["C1", "C2", "C3"] } }, {}],
  ];
  it.each(limits)("%s is written without a number that is none", async (_what, plan, options) => {
    for (const audience of ["committee", "analyst"] as const) {
      const files = await render(plan, options, audience);
      expect([...files.keys()]).toContain("index.html");
      for (const [path, text] of files)
        expect(text, path).not.toMatch(/\bNaN\b|\bInfinity\b|>undefined<|\[object/);
    }
  });

  it("says before any result that an export without events cannot answer, and why each number is missing", async () => {
    const page = (await render({}, { csv: withoutRevisions }, "committee")).get("index.html") ?? "";
    expect(page).toMatch(
      /What could have been seen cannot be told \(no events, so no ratio could have been seen\)/,
    );
    expect(page).toMatch(/This export cannot tell/);
  });

  it("tells three groups apart in the brief, each pair by name", async () => {
    const exposure = { field: "role:centre", groups: ["C1", "C2", "C3"] };
    const page = (await render({ exposure }, { knees: 4000 }, "analyst")).get("index.html") ?? "";
    expect(page).toMatch(/“C1” and “C2”: [^“]*“C1” and “C3”: /);
    expect(page).not.toMatch(/however large/);
    expect(page).toMatch(/this study has more/);
    expect(page).toMatch(/Largest of them/);
  });

  it("counts a step that does not apply, or was written down too late, in no share", async () => {
    const made = await run({ covariates: ["role:technique:drilling", "role:technique:stillUntilSet"] });
    const [drilling, still] = made.estimates.covariates.covariates;
    expect(drilling?.missing.map(({ reason }) => reason)).toEqual(["not applicable", "not recorded"]);
    expect(drilling?.kind === "code" && drilling.categories.map(({ label }) => label)).toHaveLength(2);
    const group = made.estimates.covariates.groups[0]?.units ?? 0;
    const missing = drilling?.missing.reduce((sum, { groups }) => sum + (groups[0]?.units ?? 0), 0) ?? 0;
    expect((drilling?.present[0]?.units ?? 0) + missing).toBe(group);
    expect(still?.missing.map(({ reason }) => reason)).toEqual(["not recorded"]);
  });

  it("compares rates only where a group has had fewer than 5 events, or expects fewer", async () => {
    const { estimates } = await run({}, { knees: 400, surgeons: 6, centres: 2 });
    const [pair] = estimates.pairs;
    expect(estimates.compared.some(({ events }) => events.units < 5)).toBe(true);
    expect(pair?.crude.every((answer) => !answer.computed)).toBe(true);
    expect(estimates.logRank.clustered).toMatchObject({ computed: false });
    expect(estimates.rateRatios[0]?.comparison.computed).toBe(true);
  });

  it("comes out in the same bytes in every time zone, and twice in one process", async () => {
    const zone = process.env.TZ;
    const { study, source } = smallStudy();
    const pages: string[] = [];
    try {
      for (const other of ["UTC", "Pacific/Kiritimati", "America/St_Johns"]) {
        process.env.TZ = other;
        const made = await runStudy(study, source);
        pages.push(JSON.stringify([...reportFiles(made, disclose(made.exhibits, "committee"))]));
      }
    } finally {
      if (zone === undefined) delete process.env.TZ;
      else process.env.TZ = zone;
    }
    expect(new Set(pages).size).toBe(1);
  });
});
