/**
 * How often tests reject at 5 % when the technique does nothing, but is chosen by surgeons who differ in their results.
 *
 *   node --import tsx tests/simulation/clustered-level.ts
 *
 * Takes a few minutes and rewrites clustered-level.json beside this file. Not run by the tests.
 */
import { writeFileSync } from "node:fs";
import { randomStreams } from "../../src/base/random-streams.ts";
import { chiSquareUpper } from "../../src/numeric/chi-square.ts";
import { studentTwoSided } from "../../src/numeric/student-t.ts";
import { clusteredLogRank } from "../../src/survival/clustered-log-rank.ts";
import { clusteredRate } from "../../src/survival/clustered-rate.ts";
import { clusteredRestrictedMean } from "../../src/survival/clustered-restricted-mean.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import type { SharesOrNone, SmallSample } from "../../src/survival/few-clusters.ts";
import { logRankTest } from "../../src/survival/log-rank-test.ts";
import type { Observations } from "../../src/survival/observations.ts";
import { yearDifference } from "../../src/survival/year-difference.ts";
import { drawKnees, FRAILTY_SD, VOLUME_SD } from "./drawn-knees.ts";

const SEED = 20_240_817;
const REPLICATES = 2_000;
const KNEES = 8_000;
/** Surgeons in all, and how many of them use the technique. */
const DESIGNS = [
  { surgeons: 24, users: 12 },
  { surgeons: 24, users: 4 },
  { surgeons: 120, users: 60 },
  { surgeons: 120, users: 8 },
] as const;
const LEVEL = 0.05;

const QUESTION =
  "Share of draws without any effect in which p is below 5 %. Each surgeon uses the technique always or never; surgeons " +
  "differ in volume and in hazard (log-normal), and revision competes with death.";

const METHODS = {
  "log-rank, knees taken as independent": ({ plain }) => plain.p,
  "log-rank, clustered by surgeon": ({ clustered }) => clustered.p,
  "log-rank, clustered, chi-square instead of t": ({ clustered }) => chiSquareUpper(clustered.chiSquare, 1),
  "log-rank, clustered, variance times G/(G − 1)": ({ clustered, surgeons }) =>
    studentTwoSided(Math.sqrt((clustered.chiSquare * (surgeons - 1)) / surgeons), surgeons - 1),
  "10-year incidence difference, knees taken as independent": ({ independent }) => independent.p,
  "10-year incidence difference, clustered by surgeon": ({ difference }) => difference.none.p,
  "10-year difference, clustered, variance times G/(G − 1)": ({ difference }) => difference.clusters.p,
  "10-year difference, clustered, influence over one minus the surgeon's share, t on its freedom": ({
    difference,
  }) => difference.shares.p,
  "restricted mean to 10 years, clustered by surgeon": ({ mean }) => mean.none.p,
  "restricted mean to 10 years, clustered, influence over one minus the surgeon's share, t on its freedom": ({
    mean,
  }) => mean.shares.p,
  "ratio of rates, clustered by surgeon": ({ rates }) => rates.none.p,
  "ratio of rates, clustered, events over one minus the surgeon's share of time, t on its freedom": ({
    rates,
  }) => rates.shares.p,
} satisfies Record<string, (tests: Tests) => number>;

interface Tests {
  readonly surgeons: number;
  readonly plain: { readonly p: number };
  readonly clustered: { readonly p: number; readonly chiSquare: number };
  readonly independent: { readonly p: number };
  readonly difference: Readonly<Record<SmallSample, { readonly p: number }>>;
  readonly mean: Readonly<Record<SharesOrNone, { readonly p: number }>>;
  readonly rates: Readonly<Record<SharesOrNone, { readonly p: number }>>;
}

const streams = randomStreams(SEED);
const table = DESIGNS.flatMap(rejections);
writeFileSync(
  new URL("./clustered-level.json", import.meta.url),
  `${JSON.stringify({ question: QUESTION, seed: SEED, knees: KNEES, frailtySd: FRAILTY_SD, volumeSd: VOLUME_SD, level: LEVEL, table }, null, 2)}\n`,
);
for (const row of table) {
  console.log(
    `${row.surgeons} surgeons, ${row.users} use it; ${row.method}: ${(100 * row.share).toFixed(1)} %, ± ${(100 * row.monteCarloError).toFixed(1)}`,
  );
}

function rejections({ surgeons, users }: (typeof DESIGNS)[number]) {
  const methods = Object.entries(METHODS) as [string, (tests: Tests) => number][];
  const rejected = methods.map(() => 0);
  const name = `${surgeons} surgeons, ${users} use it`;
  let revisions = 0;
  for (let replicate = 0; replicate < REPLICATES; replicate++) {
    const stream = streams.stream(`${name}, replicate ${replicate}`);
    const observations = drawKnees(stream, { knees: KNEES, surgeons, users });
    const tests = testsOf(observations, surgeons);
    methods.forEach(([, p], place) => {
      if (p(tests) < LEVEL) rejected[place] = (rejected[place] ?? 0) + 1;
    });
    revisions += observations.event.reduce((sum, event) => sum + (event === 1 ? 1 : 0), 0);
    if (process.stderr.isTTY) process.stderr.write(`\r${name}: ${replicate + 1} of ${REPLICATES}`);
  }
  if (process.stderr.isTTY) process.stderr.write("\n");
  return methods.map(([method], place) => {
    const share = (rejected[place] ?? 0) / REPLICATES;
    return {
      surgeons,
      users,
      method,
      replicates: REPLICATES,
      meanRevisions: Math.round(revisions / REPLICATES),
      rejected: rejected[place] ?? 0,
      share,
      monteCarloError: Number(Math.sqrt((share * (1 - share)) / REPLICATES).toFixed(4)),
    };
  });
}

function testsOf(observations: Observations, surgeons: number): Tests {
  const counts = countsByTime(observations);
  const plain = logRankTest(counts, { event: ["revision"] });
  const clustered = clusteredLogRank(observations, { event: ["revision"] });
  if (!plain.computed || !clustered.computed) throw new Error("a draw of this size always has an answer");
  const by = (smallSample: SmallSample) => tenYearDifference(observations, { smallSample });
  const difference = { none: by("none"), clusters: by("clusters"), shares: by("shares") };
  return {
    surgeons,
    plain,
    clustered,
    difference,
    mean: { none: meanDifference(observations, "none"), shares: meanDifference(observations, "shares") },
    rates: { none: rateRatio(observations, "none"), shares: rateRatio(observations, "shares") },
    independent: tenYearDifference(observations, { clustered: false }),
  };
}

function tenYearDifference(
  observations: Observations,
  how: { smallSample?: SmallSample; clustered?: boolean },
) {
  const [answer] = yearDifference(observations, {
    measure: "incidence",
    cause: "revision",
    years: [10],
    ...how,
  });
  if (!answer?.computed) throw new Error("a draw of this size always has an answer");
  return answer;
}

function meanDifference(observations: Observations, smallSample: SharesOrNone) {
  const options = { toYear: 10, event: ["revision"], smallSample };
  const [answer] = clusteredRestrictedMean(observations, options).comparisons;
  if (!answer?.computed) throw new Error("a draw of this size always has an answer");
  return answer.difference;
}

function rateRatio(observations: Observations, smallSample: SharesOrNone) {
  const [answer] = clusteredRate(observations, { event: ["revision"], smallSample }).comparisons;
  if (!answer?.comparison.computed || !answer.comparison.ratio.computed)
    throw new Error("a draw of this size always has an answer");
  return answer.comparison.ratio;
}
