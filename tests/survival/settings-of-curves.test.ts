import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { clusteredIncidence } from "../../src/survival/clustered-incidence.ts";
import { clusteredSurvival } from "../../src/survival/clustered-survival.ts";
import { completeness } from "../../src/survival/completeness.ts";
import { conditionalSurvival } from "../../src/survival/conditional-survival.ts";
import { cumulativeHazard } from "../../src/survival/cumulative-hazard.ts";
import { cumulativeIncidence } from "../../src/survival/cumulative-incidence.ts";
import { kaplanMeier } from "../../src/survival/kaplan-meier.ts";
import { lossBounds } from "../../src/survival/loss-bounds.ts";
import { reverseFollowUp } from "../../src/survival/reverse-follow-up.ts";
import { smoothedHazard } from "../../src/survival/smoothed-hazard.ts";
import { timeToFraction } from "../../src/survival/time-to-fraction.ts";
import {
  type Asked,
  BOTH,
  CURVE,
  counts,
  nobodyLost,
  OTHER_CURVE,
  plain,
  REVISION,
  rows,
  saysItsSettings,
  unstratified,
} from "./settings-rows.ts";

const curve = kaplanMeier(counts, { level: 0.9, event: REVISION });

/** What is asked, the kind of what comes back, and every setting that was in force. */
const RESULTS: readonly Asked[] = [
  [
    "kaplanMeier() left alone",
    () => kaplanMeier(counts),
    "survivalCurve",
    { ...CURVE, event: BOTH, clusteredBy: null, from: null },
  ],
  [
    "kaplanMeier() told otherwise",
    () => kaplanMeier(counts, { ...OTHER_CURVE, event: REVISION, from: 3 }),
    "survivalCurve",
    { ...OTHER_CURVE, event: REVISION, clusteredBy: null, from: 3 },
  ],
  [
    "conditionalSurvival()",
    () => conditionalSurvival(counts, { givenYear: 1 }),
    "survivalCurve",
    { ...CURVE, event: BOTH, clusteredBy: null, from: 12 },
  ],
  [
    "reverseFollowUp()",
    () => reverseFollowUp(counts, OTHER_CURVE),
    "survivalCurve",
    { ...OTHER_CURVE, event: ["end of observation"], clusteredBy: null, from: null },
  ],
  [
    "timeToFraction()",
    () => timeToFraction(curve, 0.25),
    "timeToFraction",
    { ...CURVE, level: 0.9, event: REVISION, clusteredBy: null, from: null, fraction: 0.25 },
  ],
  [
    "clusteredSurvival()",
    () => clusteredSurvival(rows),
    "survivalCurve",
    { ...CURVE, event: BOTH, clusteredBy: "surgeon", from: null },
  ],
  [
    "clusteredSurvival() without clusters, told otherwise",
    () => clusteredSurvival(plain, { ...OTHER_CURVE, event: REVISION }),
    "survivalCurve",
    { ...OTHER_CURVE, event: REVISION, clusteredBy: null, from: null },
  ],
  [
    "cumulativeIncidence() left alone",
    () => cumulativeIncidence(counts),
    "cumulativeIncidence",
    { ...CURVE, clusteredBy: null },
  ],
  [
    "cumulativeIncidence() told otherwise",
    () => cumulativeIncidence(counts, OTHER_CURVE),
    "cumulativeIncidence",
    { ...OTHER_CURVE, clusteredBy: null },
  ],
  [
    "clusteredIncidence()",
    () => clusteredIncidence(rows),
    "cumulativeIncidence",
    { ...CURVE, clusteredBy: "surgeon" },
  ],
  [
    "clusteredIncidence() without clusters, told otherwise",
    () => clusteredIncidence(plain, OTHER_CURVE),
    "cumulativeIncidence",
    { ...OTHER_CURVE, clusteredBy: null },
  ],
  ["cumulativeHazard()", () => cumulativeHazard(counts), "cumulativeHazard", { level: 0.95, event: BOTH }],
  [
    "smoothedHazard()",
    () => smoothedHazard(counts, { halfWindowYears: 0.5 }),
    "smoothedHazard",
    { level: 0.95, event: BOTH, halfWindowYears: 0.5, stepTicks: 1 },
  ],
  [
    "smoothedHazard() told otherwise",
    () => smoothedHazard(counts, { halfWindowYears: 1, stepYears: 0.25, level: 0.9, event: REVISION }),
    "smoothedHazard",
    { level: 0.9, event: REVISION, halfWindowYears: 1, stepTicks: 3 },
  ],
];

describe("every curve", () => {
  saysItsSettings(RESULTS);

  it("keeps the time unit of its counts", () => {
    for (const result of [
      kaplanMeier(counts),
      timeToFraction(curve, 0.5),
      cumulativeIncidence(counts),
      clusteredSurvival(rows),
      clusteredIncidence(rows),
      cumulativeHazard(counts),
      smoothedHazard(counts, { halfWindowYears: 0.5 }),
      reverseFollowUp(counts),
      completeness(rows, rows.exit),
    ]) {
      expect(result.timeUnit, result.kind).toEqual(TIME_UNITS.month);
    }
  });

  it("hands the settings of loss bounds on to their curves", () => {
    const asked = { ...OTHER_CURVE, years: [0.5, 1] };
    const weight = { kind: "sampling", values: rows.exit.map(() => 2) } as const;
    const weighted = { ...plain, weight };
    const net = { risk: "net", cause: "cause 1", ...asked } as const;
    const crude = { ...net, risk: "crude" } as const;
    const ofCause = (result: ReturnType<typeof cumulativeIncidence>) => ({
      ...result,
      curves: result.curves.filter(({ cause }) => cause === "cause 1"),
    });
    const event = REVISION;
    expect(lossBounds(plain, nobodyLost, net).estimate).toEqual(
      kaplanMeier(unstratified, { ...asked, event }),
    );
    expect(lossBounds(rows, nobodyLost, net).estimate).toEqual(clusteredSurvival(rows, { ...asked, event }));
    expect(lossBounds(weighted, nobodyLost, net).best).toEqual(
      clusteredSurvival(weighted, { ...asked, event }),
    );
    expect(lossBounds(plain, nobodyLost, crude).worst).toEqual(
      ofCause(cumulativeIncidence(unstratified, asked)),
    );
    expect(lossBounds(weighted, nobodyLost, crude).worst).toEqual(
      ofCause(clusteredIncidence(weighted, asked)),
    );
    expect(lossBounds(rows, nobodyLost, { risk: "net", cause: "cause 2" }).estimate).toEqual(
      clusteredSurvival(rows, { event: ["cause 2"] }),
    );
  });

  it("keeps its own copy of the events asked about", () => {
    const event = [...REVISION];
    const result = kaplanMeier(counts, { event });
    event[0] = "another";
    expect(result.settings.event).toEqual(REVISION);
  });
});
