import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dateOfDay } from "../../src/base/day-number.ts";
import { ArgumentError, UsageError } from "../../src/base/errors.ts";
import type { Cases } from "../../src/cases/cases.ts";
import { allowedRisks } from "../../src/cohort/allowed-risks.ts";
import type { FollowUp } from "../../src/cohort/cohort.ts";
import type { Endpoint } from "../../src/cohort/endpoint.ts";
import { followUp } from "../../src/cohort/follow-up.ts";
import { LEFT_OUT_MESSAGES } from "../../src/cohort/messages.ts";
import { selectCohort } from "../../src/cohort/select-cohort.ts";
import { type InventedField, inventedCases } from "../technique/invented-cases.ts";
import { trapExport } from "./trap-exports.ts";

const SEED = 1968;
const FIELDS: readonly InventedField[] = [
  { name: "operated", type: "date", role: "operationDate" },
  { name: "entered", type: "date", role: "entryDate" },
  { name: "revised", type: "date", role: "revisionDate" },
  {
    name: "reason",
    type: "string",
    role: "revisionReason",
    categories: [{ value: "loose" }, { value: "lysis" }, { value: "infection" }, { value: "pain" }],
  },
  { name: "died", type: "date", role: "deathDate" },
  { name: "left", type: "date", role: "emigrationDate" },
  { name: "seen", type: "date", role: "lastFollowUpDate" },
];
const CUT = { dataCut: "2020-12-31" };
const LOOSENING: Endpoint = {
  event: { label: "loosening", revisionFor: ["loose", "lysis"] },
  competing: [
    { label: "other revision", revisionFor: "other" },
    { label: "death", death: true },
  ],
  censoring: "dataCut",
};
const LAST_CONTACT: Endpoint = { ...LOOSENING, censoring: "lastContact" };
const ANY: Endpoint = {
  event: { label: "revision", revisionFor: "any" },
  competing: [],
  censoring: "lastContact",
};

interface Story {
  operated?: string;
  entered?: string;
  revised?: string;
  reason?: string;
  died?: string;
  left?: string;
  seen?: string;
}

function exportOf(stories: readonly Story[], study: object = CUT): Cases {
  const rows = stories.map((story) => {
    const told: Readonly<Record<string, string>> = { operated: "2020-01-01", ...story };
    return FIELDS.map(({ name }) => told[name] ?? "");
  });
  return inventedCases(FIELDS, rows, study);
}

function follow(cases: Cases, endpoint: Endpoint, options = {}): FollowUp {
  return followUp(cases, selectCohort(cases, []), endpoint, options);
}

/** Exit and outcome of one story. */
function ends(story: Story, endpoint = LOOSENING): [number | undefined, number | undefined] {
  const { exit, outcome } = follow(exportOf([story]), endpoint);
  return [exit[0], outcome[0]];
}

function refusal(cases: Cases, endpoint: Endpoint): UsageError {
  try {
    follow(cases, endpoint);
  } catch (error) {
    if (error instanceof UsageError) return error;
    throw error;
  }
  throw new Error("was not refused");
}

describe("followUp() from dates", () => {
  it("numbers the outcomes in the order event, then competing", () => {
    const result = follow(exportOf([{}]), LOOSENING);
    expect(result.outcomes).toEqual(["loosening", "other revision", "death"]);
    expect(result.timeUnit.word).toBe("day");
  });

  it("ends on the day of revision, death, emigration or data cut, whichever is first", () => {
    expect(ends({ revised: "2020-01-11", reason: "loose" })).toEqual([10, 1]);
    expect(ends({ revised: "2020-01-11", reason: "lysis" })).toEqual([10, 1]);
    expect(ends({ revised: "2020-01-11", reason: "infection" })).toEqual([10, 2]);
    expect(ends({ died: "2020-01-31" })).toEqual([30, 3]);
    expect(ends({ left: "2020-02-01", died: "2020-05-01" })).toEqual([31, 0]);
    // 2020 is a leap year: 365 days from its first day to its last.
    expect(ends({})).toEqual([365, 0]);
    expect(ends({ revised: "2021-06-01", reason: "loose" })).toEqual([365, 0]);
    expect(ends({ revised: "2020-12-31", reason: "loose" })).toEqual([365, 1]);
  });

  it("lets a revision beat a death, and a death beat leaving, on one day", () => {
    const day = "2020-03-01";
    expect(ends({ revised: day, reason: "loose", died: day, left: day })).toEqual([60, 1]);
    expect(ends({ died: day, left: day })).toEqual([60, 3]);
    expect(ends({ revised: day, reason: "loose", left: day })).toEqual([60, 1]);
    expect(ends({ died: "2020-12-31" })).toEqual([365, 3]);
  });

  it("takes a revision without a reason for a revision that is not the event", () => {
    expect(ends({ revised: "2020-01-11" })).toEqual([10, 2]);
    expect(ends({ revised: "2020-01-11", seen: "2020-02-01" }, ANY)).toEqual([10, 1]);
  });

  it("censors at a revision or a death that no outcome names", () => {
    const alone: Endpoint = { ...LOOSENING, competing: [] };
    expect(ends({ revised: "2020-01-11", reason: "pain" }, alone)).toEqual([10, 0]);
    expect(ends({ revised: "2020-01-11" }, alone)).toEqual([10, 0]);
    expect(ends({ died: "2020-01-11" }, alone)).toEqual([10, 0]);
  });

  it("stops at the last contact where that rule is chosen, but not before a revision or death on record", () => {
    expect(ends({ seen: "2020-01-21" }, LAST_CONTACT)).toEqual([20, 0]);
    expect(ends({ seen: "2020-01-21", left: "2020-01-11" }, LAST_CONTACT)).toEqual([10, 0]);
    expect(ends({ seen: "2020-01-21", revised: "2020-02-10", reason: "loose" }, LAST_CONTACT)).toEqual([
      40, 1,
    ]);
    expect(ends({ seen: "2020-01-21", died: "2020-02-10" }, LAST_CONTACT)).toEqual([40, 3]);
    expect(ends({ seen: "2024-01-01" }, LAST_CONTACT)).toEqual([365, 0]);
    expect(ends({ left: "2020-01-11" }, LAST_CONTACT)).toEqual([10, 0]);
  });

  it("does not move with the last contact where everyone is followed to the data cut", () => {
    expect(ends({ seen: "2020-01-21" })).toEqual([365, 0]);
  });

  it("takes an entry on or before the operation for no delayed entry", () => {
    const stories = [{ entered: "2020-01-01" }, { entered: "2019-05-01" }, {}];
    expect(follow(exportOf(stories), LOOSENING).entry).toBeUndefined();
    const { entry, exit } = follow(exportOf([...stories, { entered: "2020-01-31" }]), LOOSENING);
    expect([...(entry ?? [])]).toEqual([-1, -1, -1, 30]);
    expect([...exit]).toEqual([365, 365, 365, 365]);
  });

  it("leaves out, and counts, what was never under observation", () => {
    const cases = exportOf([
      { operated: "" },
      { revised: "2019-12-31", reason: "loose" },
      { operated: "2021-01-01" },
      { entered: "2020-01-11", died: "2020-01-11" },
      { entered: "2020-02-11", died: "2020-01-11" },
      {},
    ]);
    const result = follow(cases, LOOSENING);
    expect([...result.rows]).toEqual([5]);
    expect(result.exit).toHaveLength(1);
    expect(
      result.findings.groups.map(({ code, count, first }) => [code, count, first[0]?.row, first[0]?.line]),
    ).toEqual([
      ["operation-date-missing", 1, 1, 2],
      ["ends-before-operation", 2, 2, 3],
      ["exit-not-after-entry", 2, 4, 5],
    ]);
    for (const { code } of result.findings.groups) expect(Object.hasOwn(LEFT_OUT_MESSAGES, code)).toBe(true);
  });

  it("leaves out who has neither end nor last contact where that is what ends follow-up", () => {
    const result = follow(exportOf([{}, { seen: "2020-06-01" }]), LAST_CONTACT);
    expect([...result.rows]).toEqual([1]);
    expect(result.findings.groups.map(({ code }) => code)).toEqual(["last-contact-missing"]);
  });

  it("keeps day 0, events and censorings alike (export C02)", () => {
    const { exit, outcome, findings } = follow(trapExport("C02"), ANY);
    expect([...exit]).toEqual([0, 0, 5, 10, 15, 20, 20, 30]);
    expect([...outcome]).toEqual([1, 0, 1, 0, 1, 0, 0, 0]);
    expect(findings.groups).toEqual([]);
  });

  it("counts equal days as equal whatever leap years lie between (export C01)", () => {
    const { exit, outcome } = follow(trapExport("C01"), ANY);
    expect([...exit]).toEqual([1000, 1000, 1000, 1461, 1461, 2000]);
    expect([...outcome]).toEqual([1, 1, 0, 1, 0, 0]);
  });

  it("counts a revision by its date and never by the word of its reason (export C38)", () => {
    const { exit, outcome } = follow(trapExport("C38"), ANY);
    const events = [...outcome].flatMap((code, row) => (code === 1 ? [row] : []));
    // K0001, K0005 and K0008; the first was last seen on day 1300 and revised on day 400.
    expect(events).toEqual([0, 4, 7]);
    expect(events.map((row) => exit[row])).toEqual([400, 500, 300]);
    const byReason: Endpoint = {
      event: { label: "loosening", revisionFor: ["loosening"] },
      competing: [
        { label: "infection", revisionFor: ["infection"] },
        { label: "unknown", revisionFor: "other" },
      ],
      censoring: "lastContact",
    };
    expect(events.map((row) => follow(trapExport("C38"), byReason).outcome[row])).toEqual([1, 3, 2]);
  });

  it("finds 47 events in 66 knees (export C19)", () => {
    const { outcome } = follow(trapExport("C19"), ANY);
    expect([outcome.length, outcome.filter((code) => code === 1).length]).toEqual([66, 47]);
  });
});

describe("followUp() against its rules read one by one", () => {
  it("agrees with a list of what happened, sorted by day and then by rank (twin, seeded)", () => {
    const day = fc.option(fc.integer({ min: -2, max: 12 }), { nil: undefined });
    const story = fc.record({
      revised: day,
      died: day,
      left: day,
      seen: day,
      reason: fc.constantFrom("loose", "pain", ""),
    });
    fc.assert(
      fc.property(fc.array(story, { minLength: 1, maxLength: 8 }), fc.boolean(), (people, toCut) => {
        const date = (value: number | undefined) => (value === undefined ? "" : dateOfDay(18_000 + value));
        const stories = people.map(({ revised, died, left, seen, reason }) => ({
          operated: dateOfDay(18_000),
          revised: date(revised),
          reason: revised === undefined ? "" : reason,
          died: date(died),
          left: date(left),
          seen: date(seen),
        }));
        const result = follow(
          exportOf(stories, { dataCut: dateOfDay(18_010) }),
          toCut ? LOOSENING : LAST_CONTACT,
        );
        const twin = people.map(({ revised, died, left, seen, reason }) => {
          const isOnRecord = revised !== undefined || died !== undefined;
          const contacts = [
            { at: revised, rank: 0, outcome: reason === "loose" ? 1 : 2 },
            { at: died, rank: 1, outcome: 3 },
            { at: left, rank: 2, outcome: 0 },
            { at: toCut || isOnRecord ? undefined : seen, rank: 2, outcome: 0 },
          ].filter(({ at }) => at !== undefined);
          if (!toCut && contacts.length === 0) return undefined;
          const all = [...contacts, { at: 10, rank: 2, outcome: 0 }];
          const [first] = all.sort((a, b) => Number(a.at) - Number(b.at) || a.rank - b.rank);
          return Number(first?.at) < 0 ? undefined : [first?.at, first?.outcome];
        });
        const kept = twin.flatMap((end, row) => (end === undefined ? [] : [row]));
        expect([...result.rows]).toEqual(kept);
        expect(kept.map((_, at) => [result.exit[at], result.outcome[at]])).toEqual(
          kept.map((row) => twin[row]),
        );
        const leftOut = result.findings.groups.reduce((sum, { count }) => sum + count, 0);
        expect(leftOut + kept.length).toBe(people.length);
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  it("gives each row of a cohort what it gives that row alone (identity)", () => {
    const cases = trapExport("C19");
    const whole = follow(cases, ANY);
    const some = followUp(cases, { rows: Int32Array.from([3, 17, 40]), persons: 3, attrition: [] }, ANY);
    expect([...some.exit]).toEqual([3, 17, 40].map((row) => whole.exit[row]));
    expect([...some.rows]).toEqual([3, 17, 40]);
  });
});

describe("followUp() on completeness", () => {
  const cases = exportOf([
    { seen: "2020-01-31" },
    { revised: "2020-01-11", reason: "pain" },
    { died: "2020-01-11" },
    { left: "2020-02-01" },
  ]);

  it("says how long follow-up would have been: to the revision, the death or the data cut", () => {
    const result = follow(cases, LAST_CONTACT, { lossDays: 330 });
    expect([...result.exit]).toEqual([30, 10, 10, 31]);
    expect([...(result.possible ?? [])]).toEqual([365, 10, 10, 365]);
    expect(result.possible?.every((ticks, row) => ticks >= (result.exit[row] ?? 0))).toBe(true);
  });

  it("counts as lost who was last seen more than so many days before the data cut", () => {
    expect([...(follow(cases, LAST_CONTACT, { lossDays: 335 }).lost ?? [])]).toEqual([0, 0, 0, 0]);
    expect([...(follow(cases, LAST_CONTACT, { lossDays: 334 }).lost ?? [])]).toEqual([1, 0, 0, 0]);
    expect([...(follow(cases, LAST_CONTACT, { lossDays: 333 }).lost ?? [])]).toEqual([1, 0, 0, 1]);
    expect(follow(cases, LAST_CONTACT).lossTicks).toBe(365);
    // Under the data cut rule only those who left the country are out of sight.
    expect([...(follow(cases, LOOSENING, { lossDays: 100 }).lost ?? [])]).toEqual([0, 0, 0, 1]);
  });

  it("says nothing where no data cut is stated", () => {
    const result = follow(exportOf([{ seen: "2020-01-31" }], {}), LAST_CONTACT);
    expect(result.possible).toBeUndefined();
    expect(result.lost).toBeUndefined();
  });

  it("refuses a loss limit that is no number of days", () => {
    expect(() => follow(cases, LAST_CONTACT, { lossDays: -1 })).toThrow(ArgumentError);
    expect(() => follow(cases, LAST_CONTACT, { lossDays: 1.5 })).toThrow(ArgumentError);
  });
});

describe("followUp() and what the export captures", () => {
  it.each([
    [{ revisionCapture: "ownUnit" }],
    [{ deathCapture: "unknown" }],
    [{ deathCapture: "ownUnit", revisionCapture: "unknown" }],
  ])("refuses to follow everyone to the data cut with %j", (capture) => {
    expect(refusal(exportOf([{}], { ...CUT, ...capture }), LOOSENING).code).toBe(
      "censoring-rule-not-allowed",
    );
    expect(
      follow(exportOf([{ seen: "2020-05-05" }], { ...CUT, ...capture }), LAST_CONTACT).exit,
    ).toHaveLength(1);
  });

  it("needs the day of the data cut to censor at it", () => {
    expect(refusal(exportOf([{}], {}), LOOSENING).code).toBe("data-cut-not-stated");
  });

  it("allows crude risk only where deaths are captured everywhere", () => {
    const risks = (deathCapture: string) => allowedRisks(exportOf([{}], { deathCapture }).descriptor);
    expect(risks("national")).toEqual({ net: true, crude: true });
    expect(risks("ownUnit")).toMatchObject({ net: true, crude: false, code: "deaths-not-captured" });
    expect(risks("unknown")).toMatchObject({ net: true, crude: false, code: "deaths-not-captured" });
  });
});

describe("followUp() and an endpoint that does not fit", () => {
  const cases = exportOf([{}]);
  const without = (role: string) =>
    inventedCases(
      FIELDS.filter((field) => field.role !== role),
      [["2020-01-01"]],
      CUT,
    );

  it.each([
    ["unknown-reason", { ...LOOSENING, event: { label: "wear", revisionFor: ["worn"] } }],
    ["outcomes-overlap", { ...LOOSENING, competing: [{ label: "again", revisionFor: ["lysis"] }] }],
    ["outcomes-overlap", { ...LOOSENING, competing: [{ label: "any", revisionFor: "any" }] }],
    [
      "outcomes-overlap",
      {
        ...LOOSENING,
        competing: [
          { label: "death", death: true },
          { label: "dead", death: true },
        ],
      },
    ],
    ["endpoint-mixed", { ...LOOSENING, competing: [{ label: "dead", status: "dead" }] }],
    ["role-not-in-export", { ...LAST_CONTACT, event: { label: "x", status: "x" }, competing: [] }],
  ] as [string, Endpoint][])("refuses with %s", (code, endpoint) => {
    expect(refusal(cases, endpoint).code).toBe(code);
  });

  it.each(["operationDate", "revisionDate", "revisionReason", "deathDate", "lastFollowUpDate"])(
    "refuses where the role %s that it needs is not in the export",
    (role) => {
      expect(refusal(without(role), LAST_CONTACT).code).toBe("role-not-in-export");
    },
  );

  it("names the reasons that the dictionary holds", () => {
    const wear: Endpoint = { ...LOOSENING, event: { label: "wear", revisionFor: ["worn"] } };
    expect(refusal(cases, wear).message).toContain('"infection"');
  });
});

describe("followUp() from durations", () => {
  const STATUS = {
    name: "how",
    type: "integer",
    role: "status",
    categories: [
      { value: 0, outcome: "censored" },
      { value: 1, outcome: "progression" },
      { value: 2, outcome: "death" },
      { value: 3, outcome: "death" },
    ],
  } as const;
  const endpoint: Endpoint = {
    event: { label: "progressed", status: "progression" },
    competing: [{ label: "died first", status: "death" }],
    censoring: "lastContact",
  };
  const durations = (unit: string | undefined, rows: readonly string[][]) =>
    inventedCases(
      [{ name: "time", type: "number", role: "followUpTime", ...(unit !== undefined && { unit }) }, STATUS],
      rows,
    );

  it("keeps whole months as months", () => {
    const result = follow(
      durations("mo", [
        ["7", "1"],
        ["0", "0"],
        ["12", "3"],
        ["30", "2"],
      ]),
      endpoint,
    );
    expect(result.timeUnit).toEqual({ word: "month", perYear: 12 });
    expect([...result.exit]).toEqual([7, 0, 12, 30]);
    expect([...result.outcome]).toEqual([1, 0, 2, 2]);
    expect(result.outcomes).toEqual(["progressed", "died first"]);
    expect([result.entry, result.possible, result.lost, result.lossTicks]).toEqual([
      undefined,
      undefined,
      undefined,
      12,
    ]);
  });

  it.each([
    // 365.25 / 12 = 30.4375 days a month.
    ["mo", "0.5", 15],
    ["mo", "1.1", 33],
    ["a", "0.001", 0],
    // 2 years are 730.5 days: halves go up.
    ["a", "2", 731],
    ["a", "0.5", 183],
    ["d", "0.49", 0],
    ["d", "0.5", 1],
    ["d", "10.2", 10],
  ])("turns %s %s into %d days when any duration has decimals (closed form)", (unit, time, days) => {
    const result = follow(
      durations(unit, [
        [time, "1"],
        ["0.25", "0"],
      ]),
      endpoint,
    );
    expect(result.timeUnit.word).toBe("day");
    expect(result.exit[0]).toBe(days);
  });

  it("counts every cohort of an export in one unit", () => {
    const cases = durations("mo", [
      ["7", "1"],
      ["7.5", "0"],
    ]);
    const first = { rows: Int32Array.from([0]), persons: 1, attrition: [] };
    expect(followUp(cases, first, endpoint).timeUnit.word).toBe("day");
  });

  it("leaves out, and counts, durations that are missing, below 0 or beyond counting, and unknown ends", () => {
    const cases = durations("d", [
      ["", "1"],
      ["-1", "1"],
      ["3000000000", "1"],
      ["5", ""],
      ["5", "1"],
    ]);
    const result = follow(cases, endpoint);
    expect([...result.rows]).toEqual([4]);
    expect(result.findings.groups.map(({ code, count }) => [code, count])).toEqual([
      ["follow-up-time-missing", 1],
      ["follow-up-time-out-of-range", 2],
      ["status-missing", 1],
    ]);
    expect([
      ...follow(
        durations("a", [
          ["-0.001", "1"],
          ["1", "1"],
        ]),
        endpoint,
      ).rows,
    ]).toEqual([1]);
  });

  it("refuses another censoring rule, an unstated unit and a status that is not in the dictionary", () => {
    const cases = durations("d", [["5", "1"]]);
    expect(refusal(cases, { ...endpoint, censoring: "dataCut" }).code).toBe("censoring-rule-not-allowed");
    expect(refusal(durations(undefined, [["5", "1"]]), endpoint).code).toBe("time-unit-not-stated");
    expect(refusal(durations("toString", [["5", "1"]]), endpoint).code).toBe("time-unit-not-stated");
    expect(refusal(cases, { ...endpoint, competing: [{ label: "x", status: "relapse" }] }).code).toBe(
      "unknown-status",
    );
    expect(refusal(cases, { ...endpoint, competing: [{ label: "x", status: "censored" }] }).code).toBe(
      "unknown-status",
    );
    expect(refusal(cases, { ...endpoint, competing: [{ label: "x", status: "progression" }] }).code).toBe(
      "outcomes-overlap",
    );
  });
});
