import { adjustForMultiplicity } from "../../../src/planning/adjust-for-multiplicity.ts";
import { designEffect } from "../../../src/planning/design-effect.ts";
import { detectableHazardRatio } from "../../../src/planning/detectable-hazard-ratio.ts";
import { type EventsRequiredInput, eventsRequired } from "../../../src/planning/events-required.ts";
import { referenceRecord } from "../../../tests/reference/reference-files.ts";
import { EXACT, toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { REFERENCES } from "../references.ts";

export function planningChecks(): Method {
  return {
    id: "planning",
    title: "Events required, detectable ratio, design effect",
    functions: ["eventsRequired", "detectableHazardRatio", "designEffect"],
    examples: [hepatitis(), grid(), clusters()],
  };
}

export function multiplicityChecks(): Method {
  return {
    id: "multiplicity",
    title: "Several questions: Holm and false discovery rate",
    functions: ["adjustForMultiplicity"],
    examples: [infarction(), awkward()],
  };
}

const needed = (input: EventsRequiredInput) => answered(eventsRequired(input));

function hepatitis(): Example {
  const reference = referenceRecord("11_sample_size", "ss.schoenfeld_collett");
  const { s1, s2, power, alpha } = reference.input as Record<"s1" | "s2" | "power" | "alpha", number>;
  const hazardRatio = Math.log(s2) / Math.log(s1);
  const settings = { hazardRatio, exposedShare: 0.5, power, level: alpha };
  const freedman = { ...settings, method: "freedman" as const };
  const { expected, published } = reference;
  const because = "the book rounds the hazard ratio to 0.57 before it goes on; the reference does not";
  return {
    title: "Planning a hepatitis trial: survival at 5 years from 41 to 60 %, power 90 %",
    printedIn: "Collett, Modelling Survival Data in Medical Research",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.base,
    checks: [
      valueCheck(
        "Log hazard ratio asked for",
        Math.log(hazardRatio),
        expected.logHazardRatio,
        toleranceOf(reference),
        {
          figure: published.figures.logHazardRatio,
          decimals: 3,
          because,
        },
      ),
      valueCheck(
        "Events required (Schoenfeld), whole",
        needed(settings).events,
        expected.schoenfeldCeil,
        EXACT,
        {
          figure: published.figures.events,
          decimals: 0,
          because,
        },
      ),
      valueCheck(
        "Events required (Schoenfeld), unrounded",
        needed(settings).unrounded,
        expected.schoenfeld,
        toleranceOf(reference),
      ),
      valueCheck(
        "Events required (Freedman), unrounded",
        needed(freedman).unrounded,
        expected.freedman,
        toleranceOf(reference),
      ),
      valueCheck("Events required (Freedman), whole", needed(freedman).events, expected.freedmanCeil, EXACT),
    ],
  };
}

function grid(): Example {
  const reference = referenceRecord("11_sample_size", "ss.grid");
  const { hr } = reference.input as { hr: number[] };
  const { expected } = reference;
  const forms = [
    {
      words: "Schoenfeld, half exposed, power 80 %",
      name: "schoenfeld_p50_80",
      exposedShare: 0.5,
      power: 0.8,
    },
    {
      words: "Schoenfeld, half exposed, power 90 %",
      name: "schoenfeld_p50_90",
      exposedShare: 0.5,
      power: 0.9,
    },
    {
      words: "Schoenfeld, a quarter exposed, power 80 %",
      name: "schoenfeld_p25_80",
      exposedShare: 0.25,
      power: 0.8,
    },
    {
      words: "Freedman, half exposed",
      name: "freedman_r1_80",
      exposedShare: 0.5,
      power: 0.8,
      method: "freedman" as const,
    },
    {
      words: "Freedman, three quarters exposed",
      name: "freedman_r3_80",
      exposedShare: 0.75,
      power: 0.8,
      method: "freedman" as const,
    },
  ];
  const detectable = (exposedShare: number, power: number) =>
    (expected.minDetectableHR.events as number[]).map(
      (events) => answered(detectableHazardRatio({ events, exposedShare, power })).ratio,
    );
  return {
    title: "Hazard ratios from 0.5 to 3; 20 to 400 events",
    fromMemory: false,
    reference: REFERENCES.base,
    checks: [
      ...forms.map(({ words, name, ...settings }) =>
        seriesCheck(
          `Events: ${words}`,
          hr.map((hazardRatio) => needed({ hazardRatio, ...settings }).unrounded),
          expected[name],
          toleranceOf(reference),
        ),
      ),
      seriesCheck(
        "Detectable ratio: half exposed, power 80 %",
        detectable(0.5, 0.8),
        expected.minDetectableHR.p50_80,
        toleranceOf(reference),
      ),
      seriesCheck(
        "Detectable ratio: a fifth exposed, power 90 %",
        detectable(0.2, 0.9),
        expected.minDetectableHR.p20_90,
        toleranceOf(reference),
      ),
    ],
  };
}

function clusters(): Example {
  const reference = referenceRecord("11_sample_size", "ss.design_effect");
  const { meanCluster, icc, cv } = reference.input as Record<"meanCluster" | "icc" | "cv", number[]>;
  const factors = (equal: boolean) =>
    meanCluster.map((meanSize, at) => {
      const variation = equal ? 0 : (cv[at] ?? 0);
      return answered(designEffect({ meanSize, variation }, { intraclass: icc[at] ?? 0 })).factor;
    });
  return {
    title: "Clusters of 1.2, 20 and 150 on average",
    fromMemory: false,
    reference: REFERENCES.base,
    checks: [
      seriesCheck(
        "Design effect, equal sizes",
        factors(true),
        reference.expected.deffEqual,
        toleranceOf(reference),
      ),
      seriesCheck(
        "Design effect, unequal sizes",
        factors(false),
        reference.expected.deff,
        toleranceOf(reference),
      ),
    ],
  };
}

function infarction(): Example {
  const reference = referenceRecord("14_evalue_multiplicity", "multiplicity.bh1995");
  const { p } = reference.input as { p: number[] };
  const discovery = adjustForMultiplicity(p, { method: "false-discovery-rate" }).adjusted;
  return {
    title: "Fifteen p-values of a trial in myocardial infarction (Benjamini and Hochberg 1995)",
    printedIn: "Benjamini and Hochberg 1995",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.base,
    checks: [
      valueCheck(
        "Rejected at 5 % by false discovery rate",
        discovery.filter((value) => value <= 0.05).length,
        reference.expected.rejectedAt05.bh,
        EXACT,
        { figure: reference.published.figures.bh, decimals: 0 },
      ),
      seriesCheck(
        "p adjusted by Holm",
        adjustForMultiplicity(p).adjusted,
        reference.expected.holm,
        toleranceOf(reference),
      ),
      seriesCheck(
        "p adjusted by false discovery rate",
        discovery,
        reference.expected.bh,
        toleranceOf(reference),
      ),
    ],
  };
}

function awkward(): Example {
  const reference = referenceRecord("14_evalue_multiplicity", "multiplicity.ties_order");
  const { p } = reference.input as { p: number[] };
  return {
    title: "Unsorted p-values with ties, one of 10⁻³²⁰ and one of 1 (constructed)",
    fromMemory: false,
    reference: REFERENCES.base,
    checks: [
      seriesCheck(
        "p adjusted by Holm",
        adjustForMultiplicity(p).adjusted,
        reference.expected.holm,
        toleranceOf(reference),
      ),
      seriesCheck(
        "p adjusted by false discovery rate",
        adjustForMultiplicity(p, { method: "false-discovery-rate" }).adjusted,
        reference.expected.bh,
        toleranceOf(reference),
      ),
    ],
  };
}
