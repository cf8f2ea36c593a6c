import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { studentTwoSided } from "../../src/numeric/student-t.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { cumulativeIncidence } from "../../src/survival/cumulative-incidence.ts";
import type { SmallSample } from "../../src/survival/few-clusters.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import { sharesFreedom } from "../../src/survival/shares-freedom.ts";
import { yearDifference } from "../../src/survival/year-difference.ts";
import {
  codeColumn,
  expectRelative,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../reference/record.ts";
import { incidenceOf, listOf } from "./naive-incidence.ts";
import { nudgedInfluence, nudgedVariance } from "./naive-influence.ts";
import { rowsOf } from "./some-rows.ts";

const SHAPE = {
  rows: 240,
  groups: 2,
  strata: 1,
  causes: 2,
  entries: false,
  clusters: 40,
  lastTick: 20,
} as const;
const GROUPS = [
  { group: "group 1", sign: 1 },
  { group: "group 2", sign: -1 },
] as const;
const inYears = (rows: ReturnType<typeof rowsOf>) => ({ ...rows, timeUnit: TIME_UNITS.year });
const crude = { measure: "incidence", cause: "cause 1" } as const;

function only(answers: ReturnType<typeof yearDifference>) {
  const [answer] = answers;
  if (answer?.computed !== true) throw new Error(`expected a value, got ${answer?.code}`);
  return answer;
}

describe("yearDifference() without clusters", () => {
  it("is the difference of two reference incidences with their variances added", () => {
    // Closed form from reference values: F − M and √(se² + se²) at 60 months.
    const rows = referenceRows("mgus2.csv");
    const counts = countsByTime({
      exit: numberColumn(rows, "time"),
      event: numberColumn(rows, "event"),
      group: codeColumn(rows, "sex", ["F", "M"]),
      causes: ["malignancy", "death"],
      timeUnit: TIME_UNITS.month,
    });
    const { F, M } = referenceRecord("04_competing_risks", "cif.mgus2_by_sex").expected;
    const answer = only(yearDifference(counts, { measure: "incidence", cause: "death", years: [5] }));
    const [a, b] = [F.cause2.seInfinitesimalJackknife[1], M.cause2.seInfinitesimalJackknife[1]];
    const difference = F.cause2.cif[1] - M.cause2.cif[1];
    expectRelative(answer.difference, difference, 1e-10);
    expectRelative(answer.standardError, Math.sqrt(a * a + b * b), 1e-9);
    expectRelative(answer.lower, difference - 1.959963984540054 * Math.sqrt(a * a + b * b), 1e-9);
    expect(answer.values).toEqual([expect.closeTo(F.cause2.cif[1], 12), expect.closeTo(M.cause2.cif[1], 12)]);
    expect(answer.settings).toEqual({
      level: 0.95,
      clusteredBy: null,
      clusters: null,
      degreesOfFreedom: null,
    });
  });

  it("turns round with the groups, and survival is the negative of net incidence", () => {
    const counts = countsByTime(inYears(rowsOf(31, { ...SHAPE, causes: 1 })));
    const options = { cause: "cause 1", years: [8] } as const;
    const forward = only(yearDifference(counts, { ...options, measure: "incidence" }));
    const backward = only(
      yearDifference(counts, { ...options, measure: "incidence", groups: ["group 2", "group 1"] }),
    );
    const survival = only(yearDifference(counts, { ...options, measure: "survival" }));
    expect(backward.difference).toBe(-forward.difference);
    expect(backward.lower).toBe(-forward.upper);
    expect(backward.p).toBe(forward.p);
    expect(survival.difference).toBe(-forward.difference);
    expect(survival.standardError).toBeCloseTo(forward.standardError, 14);
  });
});

describe("yearDifference() of survival", () => {
  it("takes other causes for the end of follow-up, and several for one, as the curves do (identity)", () => {
    const counts = countsByTime(inYears(rowsOf(31, SHAPE)));
    for (const cause of [["cause 1"], ["cause 2"], ["cause 1", "cause 2"]]) {
      const answer = only(yearDifference(counts, { measure: "survival", cause, years: [8] }));
      const values = kaplanMeier(counts, { event: cause, years: [8] }).groups.map(
        ({ atYears: [year] }) => year,
      );
      expect(answer.values).toEqual(
        values.map((year) => expect.closeTo(year?.computed ? year.value : -1, 13)),
      );
      expect(answer.cause).toBe(cause.join(", "));
    }
  });
});

describe("yearDifference() with clusters", () => {
  it("sums influence over both groups within a cluster before squaring", () => {
    // Twin: numerical derivatives; every cluster has rows in both groups.
    const rows = rowsOf(32, SHAPE);
    const answer = only(yearDifference(inYears(rows), { ...crude, years: [8] }));
    const [first, second] = ["group 1", "group 2"].map((group) => incidenceOf(listOf(rows, group), 1, 8));
    expect(answer.difference).toBeCloseTo((first ?? 0) - (second ?? 0), 12);
    const variance = nudgedVariance(rows, "cause 1", 8, GROUPS);
    expect(answer.standardError * answer.standardError).toBeCloseTo(variance, 9);
    expect(answer.settings).toMatchObject({ clusteredBy: "surgeon", clusters: 40, degreesOfFreedom: null });
  });

  it("differs from adding the clustered variances of the groups when clusters are shared, and not when they are not", () => {
    const rows = rowsOf(33, SHAPE);
    const apart = {
      ...rows,
      cluster: {
        ...rows.cluster,
        codes: rows.cluster.codes.map((code, row) => 2 * code + (rows.group.codes[row] ?? 0)),
      },
    };
    const added = (columns: typeof rows) =>
      GROUPS.reduce((sum, side) => sum + nudgedVariance(columns, "cause 1", 8, [side]), 0);
    const squared = (columns: typeof rows) => {
      const { standardError } = only(yearDifference(inYears(columns), { ...crude, years: [8] }));
      return standardError * standardError;
    };
    expect(squared(apart)).toBeCloseTo(added(apart), 9);
    expect(Math.abs(squared(rows) / added(rows) - 1)).toBeGreaterThan(0.01);
  });

  it("equals the unclustered one where each row is a cluster", () => {
    const rows = rowsOf(34, SHAPE);
    const alone = { ...inYears(rows), cluster: { codes: [...rows.exit.keys()], word: "knee" } };
    for (const measure of ["incidence", "survival"] as const) {
      const options = { measure, cause: "cause 1", years: [3, 8] };
      const clustered = yearDifference(alone, options);
      yearDifference(alone, { ...options, clustered: false }).forEach((plain, place) => {
        const other = clustered[place];
        if (!plain.computed || !other?.computed) throw new Error("both are within reach");
        expect(other.standardError).toBeCloseTo(plain.standardError, 12);
        expect(other.p).toBeCloseTo(plain.p, 10);
      });
    }
  });

  it("uses t on clusters − 1 below 30 clusters", () => {
    const answer = only(
      yearDifference(inYears(rowsOf(35, { ...SHAPE, clusters: 12 })), { ...crude, years: [8] }),
    );
    expect(answer.settings).toMatchObject({ clusters: 12, clustersByGroup: [12, 12], degreesOfFreedom: 11 });
    // Reference: t(0.975, 11 df) = 2.200985, standard table.
    expect((answer.upper - answer.difference) / answer.standardError).toBeCloseTo(2.200985, 6);
  });

  it("widens the variance for few clusters as asked, and says so", () => {
    // Closed form for "clusters": G / (G − 1). Twin for "shares": the nudged influence of each cluster over 1 − its share.
    const rows = rowsOf(39, { ...SHAPE, clusters: 6 });
    const by = (smallSample: SmallSample) =>
      only(yearDifference(inYears(rows), { ...crude, years: [8], smallSample }));
    const square = (value: number) => value * value;
    expectRelative(square(by("clusters").standardError), (6 / 5) * square(by("none").standardError), 1e-12);
    const sums = new Array<number>(6).fill(0);
    for (const { group, sign } of GROUPS) {
      const list = listOf(rows, group);
      nudgedInfluence(list, 1, 8).forEach((influence, place) => {
        const cluster = list[place]?.cluster ?? 0;
        const share = list.filter((row) => row.cluster === cluster).length / list.length;
        sums[cluster] = (sums[cluster] ?? 0) + (sign * influence) / (1 - share);
      });
    }
    const variance = sums.reduce((sum, value) => sum + value * value, 0);
    expect(square(by("shares").standardError)).toBeCloseTo(variance, 9);
    expect(by("shares").settings.smallSample).toBe("shares");
    expect(by("shares").difference).toBe(by("none").difference);
  });

  it("refers the widened difference to t on the freedom that the shares leave, however many clusters", () => {
    // Twin: shares of rows, and the variance of independent rows by nudging each; sharesFreedom() has tests of its own.
    const rows = inYears(rowsOf(40, { ...SHAPE, clusters: 35 }));
    const answer = only(yearDifference(rows, { ...crude, years: [8], smallSample: "shares" }));
    const groups = GROUPS.map(({ group }) => {
      const list = listOf(rows, group);
      const held = (cluster: number) => list.filter((row) => row.cluster === cluster).length;
      return {
        shares: Array.from({ length: 35 }, (_, cluster) => held(cluster) / list.length),
        variance: nudgedInfluence(list, 1, 8).reduce((sum, influence) => sum + influence * influence, 0),
      };
    });
    const freedom = answer.settings.degreesOfFreedom ?? 0;
    expect(freedom).toBeCloseTo(sharesFreedom(groups), 5);
    const quantile = (answer.upper - answer.difference) / answer.standardError;
    expect(studentTwoSided(quantile, freedom)).toBeCloseTo(0.05, 10);
    expect(studentTwoSided(answer.difference / answer.standardError, freedom)).toBeCloseTo(answer.p, 10);
  });

  it("agrees with numerical derivatives under sampling weights and late entries without clusters", () => {
    const rows = rowsOf(36, { ...SHAPE, entries: true });
    const weight = { kind: "sampling" as const, values: rows.exit.map((_, row) => 1 + (row % 4) / 2) };
    const alone = { ...rows, weight, cluster: { codes: [...rows.exit.keys()], word: "knee" } };
    const { cluster: _, ...unclustered } = inYears(rows);
    const answer = only(yearDifference({ ...unclustered, weight }, { ...crude, years: [10] }));
    expect(answer.standardError * answer.standardError).toBeCloseTo(
      nudgedVariance(alone, "cause 1", 10, GROUPS),
      9,
    );
    expect(answer.settings.clusteredBy).toBeNull();
  });
});

describe("yearDifference() says why there is no answer", () => {
  const rows = inYears(rowsOf(37, SHAPE));
  const code = (
    data: Parameters<typeof yearDifference>[0],
    options: Partial<Parameters<typeof yearDifference>[1]>,
  ) => {
    const [answer] = yearDifference(data, { ...crude, years: [8], ...options });
    return answer?.computed === false ? answer.code : "computed";
  };

  it("after the last tick with enough at risk, as for the curves", () => {
    const curves = cumulativeIncidence(countsByTime(rows)).curves.filter(
      (curve) => curve.cause === "cause 1",
    );
    const stops = curves.map((curve) => (curve.drawnTo.computed ? curve.drawnTo.tick : -1));
    expect(code(rows, { years: [Math.min(...stops)] })).toBe("computed");
    expect(code(rows, { years: [Math.min(...stops) + 1] })).toBe("too-few-at-risk");
    expect(code(rows, { years: [99] })).toBe("beyond-follow-up");
  });

  it("in groups too small for a curve, and in a group without the event", () => {
    expect(code(inYears(rowsOf(38, { ...SHAPE, rows: 30 })), {})).toBe("group-too-small-to-draw");
    const spared = {
      ...rows,
      event: rows.event.map((event, row) => (rows.group.codes[row] === 1 && event === 1 ? 0 : event)),
    };
    expect(code(spared, {})).toBe("no-events-in-a-group");
  });

  it("when clusters are asked for but there are none, or too few to vary", () => {
    expect(code(countsByTime(rows), { clustered: true })).toBe("no-clusters-in-counts");
    expect(code({ ...rows, cluster: { ...rows.cluster, codes: rows.exit.map(() => 3) } }, {})).toBe(
      "too-few-clusters",
    );
    const byGroup = { ...rows, cluster: { ...rows.cluster, codes: rows.group.codes } };
    expect(code(byGroup, {})).toBe("too-few-clusters");
    // One group in one cluster, the other in many: the first would pass for known.
    const oneAgainstMany = rows.group.codes.map((group, row) => (group === 0 ? 0 : 1 + (row % 9)));
    const alone = { ...rows, cluster: { ...rows.cluster, codes: oneAgainstMany } };
    expect(code(alone, {})).toBe("too-few-clusters");
    expect(code(alone, { smallSample: "shares" })).toBe("too-few-clusters");
    expect(code(alone, { clustered: false })).toBe("computed");
  });

  it("but throws at once for a wrong argument", () => {
    expect(() => code(rows, { groups: [0, 0] })).toThrow("must differ");
    expect(() => code(rows, { groups: [0, 5] })).toThrow("there is no group 5");
    expect(() => code(rows, { cause: "loosening" })).toThrow('no cause is named "loosening"');
    expect(() => code(rows, { cause: ["cause 1", "cause 2"] })).toThrow("one cause for incidence");
    // @ts-expect-error: not among the choices
    expect(() => code(rows, { smallSample: "some" })).toThrow("none, clusters, shares");
    expect(() => code(rows, { level: 95 })).toThrow("write 0.95");
  });
});

describe("yearDifference() where a risk set emptied early", () => {
  it("gives none, as the curves give no value there", () => {
    // One early case is alone under observation and has the event; everybody else comes later.
    const late = Array.from({ length: 200 }, (_, row) => row);
    const end = (row: number) => ({ exit: 2000 + row, event: row % 9 === 0 ? 1 : 0 });
    const first = [{ entry: 0, exit: 30, event: 1 }, ...late.map((row) => ({ entry: 400, ...end(row) }))];
    const second = late.map((row) => ({ entry: 0, ...end(row) }));
    const rows = [...first, ...second];
    const columns = {
      entry: rows.map(({ entry }) => entry),
      exit: rows.map(({ exit }) => exit),
      event: rows.map(({ event }) => event),
      group: { codes: rows.map((_, at) => (at < first.length ? 0 : 1)), labels: ["early", "late"] },
    };
    for (const measure of ["incidence", "survival"] as const) {
      const [answer] = yearDifference(columns, { measure, cause: "event", years: [5.7] });
      expect(answer).toMatchObject({ computed: false, code: "risk-set-emptied" });
    }
  });
});
