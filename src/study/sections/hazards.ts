import { type TimeUnit, yearsOfTicks } from "../../base/time-unit.ts";
import { capital } from "../../base/words.ts";
import type { ExhibitLine, LineExhibit } from "../../disclosure/exhibit.ts";
import type { CumulativeHazard } from "../../survival/cumulative-hazard.ts";
import type { SmoothedHazard } from "../../survival/smoothed-hazard.ts";
import type { StudyFacts } from "../facts.ts";
import { article, levelWords, yearWords } from "../words.ts";
import { stepLine } from "./step-line.ts";

/** How the hazard rises and falls over the years. */
export function smoothedHazardExhibit(hazard: SmoothedHazard, facts: StudyFacts): LineExhibit {
  const { halfWindowYears } = hazard.settings;
  return {
    kind: "lines",
    id: "smoothed-hazard",
    title: `Rate of ${facts.words.event.many} for ${facts.cause} over the years, smoothed`,
    question: `Among those still without ${article(facts.words.event.one)}, does the rate rise or fall with time?`,
    across: "Years of follow-up",
    up: `${capital(facts.words.event.many)} per 100 ${facts.words.unit.one}-years`,
    scale: "amount",
    drawing: "joined points",
    lines: hazard.groups.map((group, style) => smoothedLine(group, style, hazard.timeUnit)),
    notes: [
      `Each point weighs the events up to ${yearWords(halfWindowYears)} before and after it, nearer ones more; moments whose window leaves the follow-up are left out. ${levelWords(facts.level)} intervals, without the bias of smoothing; every ${facts.words.unit.one} taken as independent.`,
    ],
    settings: { ...hazard.settings },
  };
}

function smoothedLine(
  { group, smoothed }: SmoothedHazard["groups"][number],
  style: number,
  unit: TimeUnit,
): ExhibitLine {
  const none = { label: group, style, x: [], y: [] };
  if (!smoothed.computed || !smoothed.drawnTo.computed) return none;
  const last = smoothed.drawnTo.tick;
  const points = smoothed.time.filter((tick) => tick <= last).length;
  const per100 = (values: readonly number[]) => values.slice(0, points).map((value) => 100 * value);
  return {
    label: group,
    style,
    x: smoothed.time.slice(0, points).map((tick) => yearsOfTicks(tick, unit)),
    y: per100(smoothed.hazard),
    low: per100(smoothed.lower),
    high: per100(smoothed.upper),
  };
}

/** Hazard gathered so far: where the line is straight the hazard does not change. */
export function cumulativeHazardExhibit(hazard: CumulativeHazard, facts: StudyFacts): LineExhibit {
  return {
    kind: "lines",
    id: "cumulative-hazard",
    title: `Cumulative hazard of ${facts.words.event.many} for ${facts.cause}`,
    question: "Is the slope, which is the hazard, the same in all years?",
    across: "Years of follow-up",
    up: "Cumulative hazard",
    scale: "amount",
    drawing: "steps",
    lines: hazard.groups.map((group, style) =>
      stepLine({ ...group, label: group.group, style, value: group.hazard }, hazard.timeUnit),
    ),
    notes: [
      `Nelson–Aalen, with Aalen's variance and ${levelWords(facts.level)} intervals on the log scale; every ${facts.words.unit.one} taken as independent.`,
    ],
    settings: { ...hazard.settings },
  };
}
