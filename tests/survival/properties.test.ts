import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { reordered } from "./arbitrary-rows.ts";
import { EVERY_ESTIMATOR, resultOrRefusal } from "./every-estimator.ts";

interface Row {
  readonly entry: number;
  readonly exit: number;
  readonly event: number;
  readonly group: number;
  readonly stratum: number;
  readonly cluster: number;
  readonly weight: number;
  readonly caseId: number;
}

const drawnRow = fc
  .record({
    entry: fc.integer({ min: -1, max: 4 }),
    stay: fc.integer({ min: 1, max: 7 }),
    event: fc.integer({ min: 0, max: 2 }),
    group: fc.integer({ min: 0, max: 2 }),
    stratum: fc.integer({ min: 0, max: 1 }),
    cluster: fc.integer({ min: 0, max: 4 }),
    weight: fc.integer({ min: 1, max: 3 }),
  })
  .map(({ entry, stay, ...rest }) => ({ entry, exit: entry + stay, ...rest }));

/** Rows with late entries, or all from the start, so that Gray's test has its share of them. */
const drawnRows = fc
  .tuple(fc.array(drawnRow, { minLength: 4, maxLength: 20 }), fc.boolean())
  .map(([rows, late]) => rows.map((row, caseId) => ({ ...row, caseId, entry: late ? row.entry : -1 })));

const RUNS = { seed: 20_260_204, numRuns: 15 };

function columnsOf(rows: readonly Row[], weights?: "copies" | "sampling", factor = 1): ObservationColumns {
  const pick = (name: keyof Row) => rows.map((row) => row[name]);
  return {
    exit: pick("exit"),
    entry: pick("entry"),
    event: pick("event"),
    group: { codes: pick("group"), labels: ["a", "b", "c"] },
    stratum: { codes: pick("stratum"), labels: ["x", "y"] },
    cluster: { codes: pick("cluster"), word: "surgeon" },
    causes: ["revision", "death"],
    timeUnit: { word: "year", perYear: 1 },
    ...(weights && { weight: { kind: weights, values: rows.map(({ weight }) => factor * weight) } }),
  };
}

type Leaves = Map<string, unknown>;

/** Every number and word of a result by its path; `skip` names keys left out with all below them. */
function leaves(value: unknown, skip: ReadonlySet<string>, path = "", found: Leaves = new Map()): Leaves {
  if (typeof value !== "object" || value === null) return found.set(path, value);
  for (const [key, part] of Object.entries(value)) {
    if (!skip.has(key)) leaves(part, skip, `${path}/${key}`, found);
  }
  return found;
}

/** Differences as text: numbers to nine digits, all else to the letter. */
function differences(ours: Leaves, theirs: Leaves): string[] {
  const paths = new Set([...ours.keys(), ...theirs.keys()]);
  return [...paths]
    .filter((path) => !alike(ours.get(path), theirs.get(path)))
    .map((path) => `${path}: ${ours.get(path)} against ${theirs.get(path)}`);
}

function alike(a: unknown, b: unknown): boolean {
  if (typeof a !== "number" || typeof b !== "number") return a === b;
  return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a), Math.abs(b));
}

/** What an estimator says of rows: its leaves, or the words of its refusal. */
function said(
  estimate: (columns: ObservationColumns) => unknown,
  columns: ObservationColumns,
  skip: readonly string[] = [],
): Leaves {
  return leaves(
    resultOrRefusal(() => estimate(columns)),
    new Set(skip),
  );
}

const estimators = (without: readonly string[] = []) =>
  Object.entries(EVERY_ESTIMATOR).filter(([name]) => !without.includes(name));

/** Bounds, monotony and sums are asked of these keys wherever they stand. */
const SHARES = ["survival", "incidence"];

describe("every estimator of survival, whatever the rows", () => {
  it("does not care about the order of rows", () => {
    fc.assert(
      fc.property(drawnRows, fc.array(fc.nat(), { minLength: 1, maxLength: 20 }), (rows, keys) => {
        const mixed = columnsOf(reordered(rows, keys));
        for (const [name, estimate] of estimators()) {
          expect(differences(said(estimate, mixed), said(estimate, columnsOf(rows))), name).toEqual([]);
        }
      }),
      RUNS,
    );
  });

  it("takes copies of weight 2 as the row twice in its cluster", () => {
    // Not: what counts rows (completeness, the lost), and what refuses weights or shows them.
    const left = ["countsByTime", "addCounts", "grayTest", "completeness"];
    fc.assert(
      fc.property(drawnRows, (rows) => {
        const twice = columnsOf(rows.flatMap((row) => new Array<Row>(row.weight).fill(row)));
        const copies = columnsOf(rows, "copies");
        for (const [name, estimate] of estimators(left)) {
          // The head of the bounds counts rows; everything below the curves must agree.
          const skip = name.startsWith("lossBounds") ? ["rows", "lost"] : [];
          expect(differences(said(estimate, copies, skip), said(estimate, twice, skip)), name).toEqual([]);
        }
      }),
      RUNS,
    );
  });

  it("takes unclustered copies as independent rows", () => {
    const left = ["countsByTime", "addCounts", "grayTest", "completeness", "clusteredLogRank"];
    fc.assert(
      fc.property(drawnRows, (rows) => {
        const { cluster: _, ...twice } = columnsOf(
          rows.flatMap((row) => new Array<Row>(row.weight).fill(row)),
        );
        const { cluster: __, ...copies } = columnsOf(rows, "copies");
        for (const [name, estimate] of estimators(left)) {
          const skip = name.startsWith("lossBounds") ? ["rows", "lost"] : [];
          expect(differences(said(estimate, copies, skip), said(estimate, twice, skip)), name).toEqual([]);
        }
      }),
      RUNS,
    );
  });

  it("keeps estimates, limits and p when all sampling weights are multiplied", () => {
    const kept = /\/(lower|upper|p|chiSquare|per100|estimate|difference|survival|incidence|years)(\/\d+)?$/;
    const only = (all: Leaves): Leaves => new Map([...all].filter(([path]) => kept.test(path)));
    const takers = ["clustered", "yearDifference of rows", "lossBounds"];
    fc.assert(
      fc.property(drawnRows, fc.constantFrom(0.001, 7, 1e6), (rows, factor) => {
        for (const [name, estimate] of estimators().filter(([one]) =>
          takers.some((taker) => one.startsWith(taker)),
        )) {
          const [one, many] = [columnsOf(rows, "sampling"), columnsOf(rows, "sampling", factor)];
          expect(differences(only(said(estimate, many)), only(said(estimate, one))), name).toEqual([]);
        }
      }),
      RUNS,
    );
  });

  it("does not see where a case is cut in pieces", () => {
    // Series gain steps on which nothing happens, so single values are compared; Gray's test takes no late entries.
    const left = ["countsByTime", "addCounts", "grayTest", "completeness", "eventFreeShare"];
    const series = [
      "time",
      "atRisk",
      "eventsAt",
      "censoredAt",
      "competingAt",
      "survival",
      "incidence",
      "hazard",
    ];
    const skip = [...series, "standardError", "lower", "upper", "limits", "rows", "lost"];
    fc.assert(
      fc.property(drawnRows, fc.integer({ min: 0, max: 8 }), (rows, cut) => {
        const pieces = rows.flatMap((row) =>
          cut > row.entry && cut < row.exit
            ? [
                { ...row, exit: cut, event: 0 },
                { ...row, entry: cut },
              ]
            : [row],
        );
        const inPieces = { ...columnsOf(pieces), caseId: pieces.map(({ caseId }) => caseId) };
        const isSeries = (path: string) => /\/(standardError|lower|upper)$/.test(path);
        for (const [name, estimate] of estimators(left)) {
          // Of limits and standard errors the single values stay, the series go.
          const of = (columns: ObservationColumns): Leaves =>
            new Map([
              ...said(estimate, columns, skip),
              ...[...said(estimate, columns)].filter(([path]) => isSeries(path)),
            ]);
          expect(differences(of(inPieces), of(columnsOf(rows))), name).toEqual([]);
        }
      }),
      RUNS,
    );
  });

  it("says the same of each group whatever the order of groups, and gives tests the same p", () => {
    const compared = ["kind", "settings", "comparisons", "pairs"];
    const byGroup = (value: unknown, found: Leaves = new Map()): Leaves => {
      if (typeof value !== "object" || value === null) return found;
      const { group, cause, fromYear } = value as Record<string, unknown>;
      if (typeof group === "string") {
        const place = [group, cause, fromYear].join(" ");
        // A result may name a group more than once: curves as seen, worst and best.
        const times = [...found.keys()].filter((key) => key.startsWith(`${place} #`)).length;
        for (const [path, leaf] of leaves(value, new Set(compared)))
          found.set(`${place} #${times} ${path}`, leaf);
      } else for (const part of Object.values(value)) byGroup(part, found);
      if ("chiSquare" in value) found.set("chiSquare", value.chiSquare);
      return found;
    };
    const left = ["countsByTime", "addCounts", "eventFreeShare", "pairwiseLogRank", "logRankTrend"];
    fc.assert(
      fc.property(drawnRows, (rows) => {
        const columns = columnsOf(rows);
        const turned = {
          ...columns,
          group: { codes: rows.map(({ group }) => 2 - group), labels: ["c", "b", "a"] },
        };
        for (const [name, estimate] of estimators(left)) {
          const [ours, theirs] = [turned, columns].map((one) => {
            const outcome = resultOrRefusal(() => estimate(one));
            return "result" in outcome ? byGroup(outcome.result) : new Map();
          });
          expect(differences(ours ?? new Map(), theirs ?? new Map()), name).toEqual([]);
        }
      }),
      RUNS,
    );
  });

  it("only renames ticks when ticks are stretched", () => {
    const ticks = ["time", "tick", "toTick", "stepTicks", "from", "followedTo", "emptiedAt", "perYear"];
    // Not: what is told a number of ticks by this test, and counts themselves.
    const left = [
      "countsByTime",
      "addCounts",
      "completeness",
      "expectedEvents",
      "lossBounds net",
      "lossBounds crude",
    ];
    fc.assert(
      fc.property(drawnRows, fc.integer({ min: 2, max: 400 }), (rows, stretch) => {
        const longer = rows.map((row) => ({
          ...row,
          entry: row.entry < 0 ? -1 : row.entry * stretch,
          exit: row.exit * stretch,
        }));
        const stretched = { ...columnsOf(longer), timeUnit: { word: "year", perYear: stretch } as const };
        for (const [name, estimate] of estimators(left)) {
          const ours = said(estimate, stretched, ticks);
          const theirs = said(estimate, columnsOf(rows), ticks);
          // Reasons for analysts name the tick.
          const worded = (all: Leaves): Leaves =>
            new Map([...all].map(([path, leaf]) => [path, path.endsWith("because") ? "" : leaf]));
          expect(differences(worded(ours), worded(theirs)), name).toEqual([]);
        }
      }),
      RUNS,
    );
  });

  it("keeps shares between 0 and 1, moving one way, inside their limits, and p between 0 and 1", () => {
    fc.assert(
      fc.property(drawnRows, fc.boolean(), (rows, sampled) => {
        const columns = sampled ? columnsOf(rows, "sampling") : columnsOf(rows);
        for (const [name, estimate] of estimators()) {
          const outcome = resultOrRefusal(() => estimate(columns));
          if ("result" in outcome) expect(faultsOf(outcome.result), name).toEqual([]);
        }
      }),
      RUNS,
    );
  });

  it("adds up over causes and those without any to one", () => {
    fc.assert(
      fc.property(drawnRows, (rows) => {
        const columns = columnsOf(rows);
        const incidence = EVERY_ESTIMATOR.cumulativeIncidence?.(columns) as { curves: Curve[] };
        const free = EVERY_ESTIMATOR.eventFreeShare?.(columns) as { share: number[] }[];
        free.forEach(({ share }, group) => {
          const [revision, death] = incidence.curves.slice(2 * group, 2 * group + 2);
          share.forEach((alone, step) => {
            expect(alone + (revision?.incidence[step] ?? 0) + (death?.incidence[step] ?? 0)).toBeCloseTo(
              1,
              12,
            );
          });
        });
      }),
      RUNS,
    );
  });
});

interface Curve {
  readonly incidence: readonly number[];
}

/** Where a share leaves [0, 1] or turns back, lies outside its limits, or a p is none. */
function faultsOf(value: unknown, path = ""): string[] {
  if (typeof value !== "object" || value === null) return [];
  const record = value as Record<string, unknown>;
  const faults: string[] = [];
  if (typeof record.p === "number" && !(record.p >= 0 && record.p <= 1))
    faults.push(`${path}/p: ${record.p}`);
  for (const name of SHARES) {
    const series = record[name];
    if (!Array.isArray(series)) continue;
    const [lower, upper] = [record.lower, record.upper] as (readonly (number | null)[] | undefined)[];
    series.forEach((share: number, step) => {
      const before: number = series[step - 1] ?? (name === "survival" ? 1 : 0);
      const turned = name === "survival" ? share > before + 1e-12 : share < before - 1e-12;
      const low = lower?.[step] ?? share;
      const high = upper?.[step] ?? share;
      if (turned || !(share >= -1e-12 && share <= 1 + 1e-12) || low > share + 1e-12 || high < share - 1e-12)
        faults.push(`${path}/${name}/${step}: ${low} ${share} ${high}`);
    });
  }
  return faults.concat(Object.entries(record).flatMap(([key, part]) => faultsOf(part, `${path}/${key}`)));
}
