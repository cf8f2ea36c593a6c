/**
 * How often intervals of a hazard ratio hold the ratio that was planted, by variance and by who chooses the technique.
 *
 *   node --import tsx tests/simulation/cox-coverage.ts
 *
 * Takes some minutes and rewrites cox-coverage.json beside this file. Not run by the tests.
 */
import { writeFileSync } from "node:fs";
import { randomStreams } from "../../src/base/random-streams.ts";
import type { CoxOptions } from "../../src/regression/cox-options.ts";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import type { CoxColumn } from "../../src/regression/cox-result.ts";
import { hazardRatiosByPeriod } from "../../src/regression/hazard-ratios-by-period.ts";
import type { ModelMatrix } from "../../src/regression/model-matrix.ts";
import type { Observations } from "../../src/survival/observations.ts";
import { DAYS_PER_YEAR, drawKnees, FRAILTY_SD, VOLUME_SD } from "./drawn-knees.ts";

const SEED = 20_250_311;
const REPLICATES = 2_000;
const KNEES = 8_000;
const EVENT = { event: ["revision"] };
const TERM = "technique";
/** Years at which a planted effect changes; rates of the drawn knees begin there too. */
const CUTS = [3, 5];
const BY_PERIOD = [1.5, 1, 0.75];

const QUESTION =
  "Share of draws in which the 95 % interval of the hazard ratio holds the planted one. A ratio of 1 not held is a false " +
  "alarm. Surgeons differ in volume and, where they choose, in hazard (log-normal); revision competes with death.";

interface Design {
  readonly words: string;
  readonly surgeons: number;
  readonly users?: number;
  readonly frailtySd: number;
  readonly ratio: (fromYear: number) => number;
}

/** A ratio that was found, beside the one that was planted. */
interface Found {
  readonly method: string;
  readonly planted: number;
  readonly column: CoxColumn | undefined;
}

const METHODS_BY_SURGEON: Readonly<Record<string, CoxOptions>> = {
  "knees taken as independent": { variance: "model" },
  "clustered by surgeon": {},
  "clustered, variance times G/(G − 1)": { smallSample: "clusters" },
  "clustered, scores over the rest of the information, t on its freedom": { smallSample: "shares" },
};
const METHODS_BY_KNEE: Readonly<Record<string, CoxOptions>> = {
  "model-based": { variance: "model" },
  robust: { variance: "robust" },
};

const chosenBySurgeon = [
  { surgeons: 24, users: 12 },
  { surgeons: 24, users: 4 },
  { surgeons: 120, users: 60 },
].flatMap(({ surgeons, users }) =>
  [1, 1.5].map((planted) => ({
    words: `Chosen by surgeon: ${users} of ${surgeons} use it, ratio ${planted}`,
    design: { surgeons, users, frailtySd: FRAILTY_SD, ratio: () => planted },
    found: (knees: Observations) => ratiosBy(METHODS_BY_SURGEON, knees, planted),
  })),
);
const chosenByKnee = [1, 1.5].map((planted) => ({
  words: `Chosen knee by knee, ratio ${planted}`,
  design: { surgeons: 24, frailtySd: 0, ratio: () => planted },
  found: (knees: Observations) => ratiosBy(METHODS_BY_KNEE, knees, planted),
}));
const changing = {
  words: `Chosen knee by knee, ratio ${BY_PERIOD.join(", then ")} (from ${CUTS.join(" and ")} years)`,
  design: {
    surgeons: 24,
    frailtySd: 0,
    ratio: (fromYear: number) => BY_PERIOD[CUTS.filter((cut) => cut <= fromYear).length] ?? 1,
  },
  found: ratiosByPeriod,
};

const streams = randomStreams(SEED);
const table = [...chosenBySurgeon, ...chosenByKnee, changing].flatMap(coverage);
writeFileSync(
  new URL("./cox-coverage.json", import.meta.url),
  `${JSON.stringify({ question: QUESTION, seed: SEED, knees: KNEES, frailtySd: FRAILTY_SD, volumeSd: VOLUME_SD, table }, null, 2)}\n`,
);
for (const row of table)
  console.log(`${row.design}; ${row.method}: ${(100 * row.coverage).toFixed(1)} % held, bias ${row.bias}`);

function coverage({
  words,
  design,
  found,
}: {
  readonly words: string;
  readonly design: Omit<Design, "words">;
  readonly found: (knees: Observations) => readonly Found[];
}) {
  const tallies: { method: string; planted: number; logs: number[]; errors: number[]; held: number }[] = [];
  let revisions = 0;
  for (let replicate = 0; replicate < REPLICATES; replicate++) {
    const knees = drawKnees(streams.stream(`${words}, replicate ${replicate}`), { knees: KNEES, ...design });
    found(knees).forEach(({ method, planted, column }, place) => {
      const ratio = column?.hazardRatio;
      if (!ratio?.computed) throw new Error("a draw of this size always has an answer");
      tallies[place] ??= { method, planted, logs: [], errors: [], held: 0 };
      tallies[place].logs.push(ratio.logRatio);
      tallies[place].errors.push(ratio.standardError);
      if (ratio.lower <= planted && planted <= ratio.upper) tallies[place].held += 1;
    });
    revisions += knees.event.reduce((sum, event) => sum + (event === 1 ? 1 : 0), 0);
    if (process.stderr.isTTY) process.stderr.write(`\r${words}: ${replicate + 1} of ${REPLICATES}`);
  }
  if (process.stderr.isTTY) process.stderr.write("\n");
  return tallies.map(({ method, planted, logs, errors, held }) => {
    const [centre, share] = [mean(logs), held / REPLICATES];
    return {
      design: words,
      method,
      planted,
      replicates: REPLICATES,
      meanRevisions: Math.round(revisions / REPLICATES),
      bias: Number((centre - Math.log(planted)).toFixed(4)),
      spread: Number(Math.sqrt(mean(logs.map((log) => (log - centre) ** 2))).toFixed(4)),
      meanStandardError: Number(mean(errors).toFixed(4)),
      held,
      coverage: share,
      monteCarloError: Number(Math.sqrt((share * (1 - share)) / REPLICATES).toFixed(4)),
    };
  });
}

function ratiosBy(
  methods: Readonly<Record<string, CoxOptions>>,
  knees: Observations,
  planted: number,
): Found[] {
  const matrix = techniqueMatrix(knees);
  return Object.entries(methods).map(([method, options]) => {
    const fit = coxRegression(knees, matrix, { ...EVENT, ...options });
    return { method, planted, column: fit.computed ? fit.columns[0] : undefined };
  });
}

function ratiosByPeriod(knees: Observations): Found[] {
  const cuts = CUTS.map((year) => Math.floor(year * DAYS_PER_YEAR));
  const ratios = hazardRatiosByPeriod(knees, techniqueMatrix(knees), {
    ...EVENT,
    term: TERM,
    cuts,
    variance: "model",
  });
  return BY_PERIOD.map((planted, period) => ({
    method: `model-based, ${periodWords(period)}`,
    planted,
    column: ratios.computed ? ratios.periods[period]?.columns[0] : undefined,
  }));
}

function periodWords(period: number): string {
  const [from, to] = [CUTS[period - 1], CUTS[period]];
  if (from === undefined) return `to ${to} years`;
  return to === undefined ? `after ${from} years` : `${from} to ${to} years`;
}

function techniqueMatrix({ rows, group }: Observations): ModelMatrix {
  return {
    rows: Int32Array.from({ length: rows }, (_, row) => row),
    columns: [{ name: TERM, values: Float64Array.from(group.codes) }],
    terms: [{ name: TERM, kind: "number", from: 0, columns: 1 }],
    lost: [],
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
