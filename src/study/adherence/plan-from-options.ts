import { UsageError } from "../../base/errors.ts";
import { TECHNIQUE_STEPS, type TechniqueStep } from "../../cases/roles.ts";
import type { AdherencePlan, Standard } from "./plan.ts";

/** What a person may ask on the command line. */
export interface AskedAdherence {
  readonly id: string;
  readonly export: string;
  readonly title: string;
  /** "pulsedLavage=90". */
  readonly atLeast: readonly string[];
  readonly atMost: readonly string[];
  /** ISO date. */
  readonly change?: string;
  readonly yearsInBlock?: number;
  readonly strata: readonly string[];
}

/**
 * An audit without a notebook: every step the export records, everybody in it.
 *
 * @throws UsageError `not-a-standard` for a standard that names no step or no per cent.
 */
export function planFromOptions(asked: AskedAdherence): AdherencePlan {
  const { id, title, change, yearsInBlock, strata } = asked;
  return {
    id,
    title: `What is done in “${title}”?`,
    question: "Does the unit do the steps that it says it does?",
    export: asked.export,
    eligibility: [],
    standards: [
      ...asked.atLeast.map((text) =>
        standard("--at-least", text, (percent) => ({ percentAtLeast: percent })),
      ),
      ...asked.atMost.map((text) => standard("--at-most", text, (percent) => ({ percentAtMost: percent }))),
    ],
    ...(change === undefined ? {} : { change: { on: change, what: "as asked on the command line" } }),
    ...(yearsInBlock === undefined ? {} : { yearsInBlock }),
    strata,
  };
}

type Mark = { readonly percentAtLeast: number } | { readonly percentAtMost: number };

function standard(option: string, text: string, mark: (percent: number) => Mark): Standard {
  const [name = "", percent = ""] = text.split("=");
  const step = TECHNIQUE_STEPS.find((one) => one === name);
  if (step === undefined || !/^\d+(\.\d+)?$/.test(percent) || Number(percent) > 100) {
    throw new UsageError(
      "not-a-standard",
      `${option}: "${text}" is not a step and per cent such as pulsedLavage=90; the steps are ${TECHNIQUE_STEPS.join(", ")}`,
    );
  }
  return { step, reason: "as asked on the command line", ...mark(Number(percent)) } satisfies Standard & {
    readonly step: TechniqueStep;
  };
}
