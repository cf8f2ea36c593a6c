import { describe, expect, it } from "vitest";
import { ArgumentError } from "../../src/base/errors.ts";
import { AUDIENCES, THRESHOLDS } from "../../src/disclosure/audience.ts";
import type { ClearedCell } from "../../src/disclosure/cleared.ts";
import { cellsHidden, cellsOf } from "../../src/disclosure/cleared-cells.ts";
import { clearedJson } from "../../src/disclosure/cleared-json.ts";
import { mapCleared } from "../../src/disclosure/cleared-value.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Cell, Count, Exhibit } from "../../src/disclosure/exhibit.ts";
import { count, countCell, crossTable, curve, curveExhibit, flow, shareCell, table } from "./exhibits.ts";

/** Cells of all exhibits for an audience, in order. */
function cells(
  exhibits: readonly Exhibit[],
  audience: (typeof AUDIENCES)[number] = "committee",
): readonly ClearedCell[] {
  return disclose(exhibits, audience).exhibits.flatMap((exhibit) => cellsOf(exhibit));
}

const texts = (...given: Parameters<typeof cells>) => cells(...given).map((cell) => cell.text);

const one = (cell: Cell) => [table("t", [[cell]])];

describe("disclose() and the threshold", () => {
  it.each(AUDIENCES.filter((audience) => audience !== "analyst"))(
    "hides counts from 1 to below the threshold for %s and no other",
    (audience) => {
      const threshold = THRESHOLDS[audience];
      const hidden = Array.from({ length: threshold + 3 }, (_, units) => units).filter(
        (units) => cells(one(countCell(count("k", units))), audience)[0]?.hidden,
      );
      expect(hidden).toEqual(Array.from({ length: threshold - 1 }, (_, at) => at + 1));
    },
  );

  it("shows zeros", () => {
    expect(texts(one(shareCell(count("events", 0), count("group", 120))))).toEqual(["0 (0.0 %)"]);
  });

  it("judges by persons where they are fewer than units", () => {
    expect(texts(one(countCell(count("k", 6, 4))))).toEqual(["hidden"]);
    expect(texts(one(countCell(count("k", 6, 5))))).toEqual(["6"]);
  });

  it("remembers the persons that only one exhibit names", () => {
    expect(
      texts([table("a", [[countCell(count("k", 6))]]), table("b", [[countCell(count("k", 6, 4))]])]),
    ).toEqual(["hidden", "hidden"]);
  });

  it("hides a share whose complement is small, and treats n of n like n − 1 of n", () => {
    const part = (units: number) => texts(one(shareCell(count("part", units), count("whole", 60))))[0];
    expect([55, 56, 59, 60].map(part)).toEqual(["55 (92 %)", "hidden", "hidden", "hidden"]);
  });

  it("tells n of n from n − 1 of n in no cell of a two-way split", () => {
    const split = (yes: number) =>
      texts([
        table(
          "t",
          [
            [
              shareCell(count("yes", yes), count("all", 60)),
              shareCell(count("no", 60 - yes), count("all", 60)),
            ],
          ],
          [{ total: count("all", 60), parts: [count("yes", yes), count("no", 60 - yes)] }],
        ),
      ]);
    expect(split(60)).toEqual(split(59));
  });

  it("hides estimates and p-values with the counts they rest on", () => {
    const few = [count("few", 3)];
    expect(
      texts([
        table("t", [
          [
            { kind: "number", value: 1.2, decimals: 1, restsOn: few },
            { kind: "numbers", form: "{0} ({1} to {2})", values: [1, 0, 2], decimals: 0, restsOn: few },
            { kind: "pValue", p: 0.2, restsOn: few },
            { kind: "statistic", value: 3.2, restsOn: few },
          ],
        ]),
      ]),
    ).toEqual(["hidden", "hidden", "hidden", "hidden"]);
  });

  it("uses one word for small counts and for those that would give them back", () => {
    const centres = crossTable("c", { East: [3, 12], West: [20, 30] }, ["revised", "not"]);
    const hidden = cells([centres]).filter((cell) => cell.hidden);
    expect(hidden.length).toBeGreaterThan(3);
    expect(new Set(hidden.map((cell) => JSON.stringify(cell))).size).toBe(1);
  });
});

describe("disclose() and what gives a hidden count back", () => {
  it("hides the smallest other part, not a zero", () => {
    const parts = [count("a", 3), count("b", 0), count("c", 40), count("d", 30)];
    const all = count("all", 73);
    expect(texts([table("t", [[...parts, all].map(countCell)], [{ total: all, parts }])])).toEqual([
      "hidden",
      "0",
      "40",
      "hidden",
      "73",
    ]);
  });

  it("breaks ties by key", () => {
    const parts = [count("z", 30), count("y", 30), count("x", 3)];
    const all = count("all", 63);
    expect(texts([table("t", [[...parts, all].map(countCell)], [{ total: all, parts }])])).toEqual([
      "30",
      "hidden",
      "hidden",
      "63",
    ]);
  });

  it("hides a third part where two small ones would be told by their sum", () => {
    // 1 + 1 = 2: both are 1. 4 + 4 = 8: both are 4 for whoever guesses that both are small.
    for (const few of [1, 4]) {
      const parts = [count("a", few), count("b", few), count("c", 40), count("d", 30)];
      const all = count("all", 70 + 2 * few);
      expect(texts([table("t", [[...parts, all].map(countCell)], [{ total: all, parts }])])).toEqual([
        "hidden",
        "hidden",
        "40",
        "hidden",
        `${70 + 2 * few}`,
      ]);
    }
  });

  it("forgets none of many exposed counts that share a total", () => {
    // In each split 1 + 1 = 2 would be told, so each must lose a third part.
    const all = count("all", 72);
    const splits = Array.from({ length: 6 }, (_, at) =>
      [1, 1, 40, 30].map((units, part) => count(`split ${at}/${part}`, units)),
    );
    const report = table(
      "t",
      [[countCell(all)], ...splits.map((parts) => parts.map(countCell))],
      splits.map((parts) => ({ total: all, parts })),
    );
    expect(texts([report])).toEqual(["72", ...splits.flatMap(() => ["hidden", "hidden", "40", "hidden"])]);
  });

  it("keeps the row and column totals of centres by outcome", () => {
    const centres = crossTable("outcome", { East: [3, 0, 4], North: [1, 9, 70], South: [6, 8, 61] }, [
      "infection",
      "loosening",
      "not revised",
    ]);
    expect(texts([centres])).toEqual([
      ...["hidden", "0 of 7", "hidden", "7"],
      ...["hidden", "9 (11 %)", "hidden", "80"],
      ...["hidden", "8 (11 %)", "hidden", "75"],
      ...["10", "17", "135", "162"],
    ]);
  });

  it("looks across exhibits: a total in another table is a total", () => {
    const here = table("here", [[countCell(count("all", 73)), countCell(count("a", 3))]]);
    const there = table(
      "there",
      [[countCell(count("b", 70))]],
      [{ total: count("all", 73), parts: [count("a", 3), count("b", 70)] }],
    );
    const [all, a, b] = texts([here, there]);
    expect([all, a, b]).toEqual(["73", "hidden", "hidden"]);
    expect(texts([there, here])).toEqual(["hidden", "73", "hidden"]);
  });

  it("takes an estimate for its counts: the count shown elsewhere is hidden with it", () => {
    const parts = [count("a", 3), count("b", 40)];
    const rate: Cell = { kind: "number", value: 12.5, decimals: 1, restsOn: [count("b", 40)] };
    expect(
      texts([table("t", [[rate, countCell(count("all", 43))]], [{ total: count("all", 43), parts }])]),
    ).toEqual(["hidden", "43"]);
  });

  it("looks at what happened between two years", () => {
    const to = (year: number, units: number) => countCell(count(`events/loosening/x/to:${year}`, units));
    expect(texts([table("t", [[to(1, 10), to(3, 12), to(5, 30)]])])).toEqual(["10", "hidden", "30"]);
    // Over all follow-up 31: one after year 5.
    expect(texts([table("t", [[to(1, 10), to(5, 30), countCell(count("events/loosening/x", 31))]])])).toEqual(
      ["10", "30", "hidden"],
    );
  });
});

describe("disclose() and flows", () => {
  const box = (label: string, units: number, persons = units) => ({
    label,
    units: count(label, units),
    persons: count(`${label}/persons`, persons),
  });

  it("hides a small removal and one of its boxes", () => {
    const shown = texts([
      flow([{ ...box("exported", 103), removed: [box("no date", 3)] }, box("kept", 100)]),
    ]);
    expect(shown).toHaveLength(6);
    expect(shown.slice(2, 4)).toEqual(["hidden", "hidden"]);
    expect([shown[0], shown[4]]).toContain("hidden");
    expect([shown[1], shown[5]]).toContain("hidden");
  });

  it("shows a flow of large numbers and zeros as it is", () => {
    expect(
      texts([
        flow(
          [
            { ...box("exported", 130, 120), removed: [box("no date", 30, 28), box("other side", 0)] },
            box("kept", 100, 92),
          ],
          [box("yes", 60, 55), box("no", 40, 37)],
        ),
      ]),
    ).not.toContain("hidden");
  });

  it("takes what a box loses without a line for a count as well", () => {
    expect(
      texts([flow([box("exported", 103), box("kept", 100)])]).filter((text) => text === "hidden"),
    ).not.toEqual([]);
  });

  it("hides units with few persons", () => {
    expect(texts([flow([box("kept", 6, 4)])])).toEqual(["hidden", "hidden"]);
  });
});

describe("disclose() and how cells are printed", () => {
  const printed = (cell: Cell, audience: (typeof AUDIENCES)[number]) => {
    const [shown] = cells(one(cell), audience);
    return [shown?.text, shown?.values];
  };

  it("gives percentages no decimal below 100, one from 100, and none at all below 20", () => {
    const share = (part: number, whole: number) =>
      printed(shareCell(count("p", part), count("w", whole)), "committee");
    expect(share(5, 19)).toEqual(["5 of 19", [5, 19]]);
    expect(share(6, 20)).toEqual(["6 (30 %)", [6, 30]]);
    expect(share(17, 99)).toEqual(["17 (17 %)", [17, 17]]);
    expect(share(17, 100)).toEqual(["17 (17.0 %)", [17, 17]]);
    expect(share(123, 999)).toEqual(["123 (12.3 %)", [123, 12.3]]);
  });

  it("gives committees the printed numbers and analysts twelve digits", () => {
    const third = 1 / 3;
    const number: Cell = { kind: "number", value: third, decimals: 2, suffix: " %", restsOn: [] };
    expect(printed(number, "committee")).toEqual(["0.33 %", [0.33]]);
    expect(printed(number, "analyst")).toEqual(["0.33 %", [0.333333333333]]);
    const limits: Cell = {
      kind: "numbers",
      form: "{0} ({1} to {2})",
      values: [third, -third, 1],
      decimals: 1,
      restsOn: [],
    };
    expect(printed(limits, "external")).toEqual(["0.3 (−0.3 to 1.0)", [0.3, -0.3, 1]]);
    expect(printed({ kind: "pValue", p: 0.000012345, restsOn: [] }, "committee")).toEqual([
      "< 0.001",
      [0.001],
    ]);
    expect(printed({ kind: "pValue", p: 0.03456, restsOn: [] }, "committee")).toEqual(["0.035", [0.035]]);
    expect(printed({ kind: "pValue", p: 0.000012345, restsOn: [] }, "analyst")).toEqual([
      "< 0.001",
      [0.000012345],
    ]);
  });

  it("gives statistics three digits outside the analyst's report", () => {
    const statistic: Cell = { kind: "statistic", value: 12.34567, restsOn: [] };
    expect(printed(statistic, "committee")).toEqual(["12.3", [12.3]]);
    expect(printed(statistic, "analyst")).toEqual(["12.3457", [12.34567]]);
  });

  it("passes words on and counts them for nothing", () => {
    expect(printed({ kind: "none", because: "no events" }, "committee")).toEqual(["no events", []]);
    expect(cellsHidden(disclose(one({ kind: "text", text: "yes" }), "committee"))).toEqual({
      cells: 0,
      hidden: 0,
    });
  });
});

describe("disclose() and its arguments", () => {
  it("refuses two values for one key", () => {
    expect(() =>
      disclose([table("t", [[countCell(count("k", 6)), countCell(count("k", 7))]])], "analyst"),
    ).toThrow(ArgumentError);
  });

  it("refuses parts that do not add up, parts above their whole and counts that fall over time", () => {
    const relation = { total: count("all", 9), parts: [count("a", 3), count("b", 5)] };
    expect(() => disclose([table("t", [], [relation])], "committee")).toThrow(/add up/);
    expect(() => disclose(one(shareCell(count("p", 9), count("w", 8))), "committee")).toThrow(/larger/);
    const falling = [countCell(count("x/to:1", 9)), countCell(count("x/to:3", 8))];
    expect(() => disclose([table("t", [falling])], "committee")).toThrow(/cannot fall/);
  });

  it("refuses counts that are none, unknown audiences and ids used twice", () => {
    for (const units of [-1, 0.5, Number.NaN]) {
      expect(() => disclose(one(countCell(count("k", units))), "committee")).toThrow(ArgumentError);
    }
    expect(() => disclose([], "public" as never)).toThrow(ArgumentError);
    expect(() => disclose([table("t", []), table("t", [])], "committee")).toThrow(ArgumentError);
  });

  it("leaves the exhibits alone and gives the same answer again", () => {
    const exhibits = [crossTable("c", { East: [3, 12], West: [20, 30] }, ["revised", "not"])];
    const before = JSON.stringify(exhibits);
    const first = disclose(exhibits, "committee");
    expect(JSON.stringify(exhibits)).toBe(before);
    expect(disclose(exhibits, "committee")).toEqual(first);
  });
});

describe("a count marked to be kept", () => {
  it("is given up after every other count of its sum, the total too", () => {
    const parts = [count("a", 3), { ...count("b", 20), keep: true as const }, count("c", 40)];
    const all = count("all", 63);
    const shown = (kept: readonly Count[]) =>
      disclose([table("t", [[...kept, all].map(countCell)], [{ total: all, parts: kept }])], "committee")
        .exhibits.flatMap(cellsOf)
        .map(({ text }) => text);
    expect(shown(parts)).toEqual(["hidden", "20", "hidden", "63"]);
    expect(shown(parts.map((part, at) => (at === 0 ? part : { ...part, keep: true as const })))).toEqual([
      "hidden",
      "20",
      "40",
      "hidden",
    ]);
  });
});

describe("disclose() and its log", () => {
  it("counts what was hidden by exhibit, and does not tell which count is the small one", () => {
    const parts = [count("a", 3), count("c", 40), count("d", 30)];
    const all = count("all", 73);
    const report = disclose(
      [table("t", [[...parts, all].map(countCell)], [{ total: all, parts }])],
      "committee",
    );
    expect(report.log).toEqual([{ exhibit: "t", title: "t", act: "hidden", cells: 2 }]);
    expect(cellsHidden(report)).toEqual({ cells: 4, hidden: 2 });
  });

  it("is empty for analysts", () => {
    const report = disclose([table("t", [[countCell(count("a", 3))]])], "analyst");
    expect([report.log, report.threshold]).toEqual([[], 0]);
  });
});

describe("clearedJson()", () => {
  const report = () =>
    disclose(
      [
        table("t", [[countCell(count("a", 3))]]),
        curveExhibit([
          curve("loosening/x", 500, [
            [100, 8, 0],
            [700, 9, 2],
          ]),
        ]),
        flow([{ label: "all", units: count("all", 90) }]),
      ],
      "committee",
    );

  it("is plain data, the same each time", () => {
    const text = JSON.stringify(clearedJson(report()));
    expect(text).toBe(JSON.stringify(clearedJson(report())));
    expect(JSON.parse(text)).toEqual(clearedJson(report()));
    // Counts stand in a part of their own, where hidden ones have no number.
    const { told, ...rest } = JSON.parse(text);
    expect(JSON.stringify(rest)).not.toContain('"key"');
    expect(told.counts.filter(({ low }: { low?: number }) => low === undefined)).toEqual([
      { key: "a", where: "t: row 0" },
    ]);
  });

  it("refuses what JSON cannot hold", () => {
    const bad = disclose([{ ...table("t", []), settings: { level: Number.NaN } }], "committee");
    expect(() => clearedJson(bad)).toThrow(ArgumentError);
  });

  it("is cleared as what mapCleared() makes", () => {
    const [exhibit] = report().exhibits;
    expect(exhibit === undefined ? "" : mapCleared(exhibit, ({ id }) => id)).toBe("t");
  });
});
