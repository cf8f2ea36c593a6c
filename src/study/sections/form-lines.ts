import { pValue } from "../../base/display.ts";
import { numbered } from "../../base/words.ts";
import type { LineExhibit } from "../../disclosure/exhibit.ts";
import type { Adjusted, FormCheck } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { levelWords } from "../words.ts";

/** For every adjuster that is a number: whether the model has it in the right form. */
export function formLinesExhibits({ forms }: Adjusted, facts: StudyFacts): readonly LineExhibit[] {
  return forms().map((check, at) => formLines(check, at, facts));
}

/** The figures of the forms, as the section names them. */
export function formLinesId(place: number): string {
  return `form-${place + 1}`;
}

function formLines(check: FormCheck, place: number, facts: StudyFacts): LineExhibit {
  const { label, origin, course } = check;
  const points = course.computed ? course.course : [];
  const x = points.map(({ value }) => value + origin);
  return {
    kind: "lines",
    id: formLinesId(place),
    title: `Form of an adjuster: ${label}, in the model as ${check.isCurve ? "a curve" : "a straight line"}`,
    question:
      "Near each value, how many events were seen for each one that the model expects? About 1 throughout is right.",
    across: label,
    acrossFrom: Math.floor(x[0] ?? 0),
    up: "Events seen over expected",
    scale: "ratio",
    of: "comparisons",
    drawing: "joined points",
    lines: [
      {
        label: "seen over expected",
        style: 0,
        x,
        y: points.map(({ ratio }) => ratio),
        low: points.map(({ lower }) => lower),
        high: points.map(({ upper }) => upper),
      },
    ],
    notes: [
      course.computed
        ? `From martingale residuals, smoothed over ${levelWords(course.settings.window)} of the ${course.events} events; pointwise ${levelWords(facts.level)} limits, which take every ${facts.words.unit.one} as independent: a picture for the eye.`
        : `Not drawn: ${course.because}.`,
      testWords(check),
    ],
    settings: course.computed ? { ...course.settings } : {},
  };
}

/** The test that goes with the picture. */
function testWords({ curved, isCurve }: FormCheck): string {
  if (!curved.computed)
    return `A curve against a straight line in its place: not tested (${curved.because}).`;
  const { p, degreesOfFreedom, chiSquare } = curved;
  const other = isCurve
    ? "the curve against a straight line"
    : "a curve (four knots) in place of the straight line";
  return `The test of ${other}: likelihood ratio ${Number(chiSquare.toFixed(2))} on ${numbered(degreesOfFreedom, "degree")} of freedom, p ${pValue(p)}. The form was declared in the plan and is not changed by this.`;
}
