import { dayNumber } from "../../base/day-number.ts";
import { UsageError } from "../../base/errors.ts";
import { nearestWord } from "../../base/nearest-word.ts";
import { TECHNIQUE_STEPS } from "../../cases/roles.ts";
import type { AdherencePlan, Change, Standard } from "./plan.ts";

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
    ...(change === undefined ? {} : { change: changeOn(change) }),
    ...(yearsInBlock === undefined ? {} : { yearsInBlock }),
    strata,
  };
}

type Mark = { readonly percentAtLeast: number } | { readonly percentAtMost: number };

function standard(option: string, text: string, mark: (percent: number) => Mark): Standard {
  const [, name = "", percent = ""] = /^([^=]*)=(\d+(?:\.\d+)?)$/.exec(text) ?? [];
  const step = TECHNIQUE_STEPS.find((one) => one === name);
  if (step === undefined || Number(percent) > 100) throw notAStandard(option, text);
  return { step, reason: "as asked on the command line", ...mark(Number(percent)) };
}

function notAStandard(option: string, text: string): UsageError {
  const [written = ""] = text.split("=");
  const nearest = nearestWord(written, TECHNIQUE_STEPS);
  const meant = nearest === undefined || nearest === written ? "" : ` (did you mean ${nearest}?)`;
  return new UsageError(
    "not-a-standard",
    `${option}: "${text}" is not a step and per cent such as pulsedLavage=90${meant}; the steps are ${TECHNIQUE_STEPS.join(", ")}`,
  );
}

function changeOn(date: string): Change {
  if (dayNumber(date) !== undefined) return { on: date, what: "as asked on the command line" };
  throw new UsageError("not-a-date", `--change: "${date}" is not a date; write it as 2020-01-31`);
}
