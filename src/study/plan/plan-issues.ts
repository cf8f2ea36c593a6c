import { z } from "zod";
import { nearestWord } from "../../base/nearest-word.ts";
import { type PlanFault, unknownWord } from "../../base/plan-fault.ts";
import { isUndecided, undecidedFaults } from "../authoring/undecided-places.ts";
import { LONGEST_LINE_OF_VALUES, planIssueWords } from "./plan-words.ts";

/** Everything in the shape of a plan that is not decided or not as it should be; empty where all is. */
export function shapeFaults(schema: z.ZodObject, plan: unknown): readonly PlanFault[] {
  const checked = schema.safeParse(plan, { error: planIssueWords });
  const issues = checked.success ? [] : checked.error.issues;
  // What is open is no text or number yet, and need not be told twice.
  const settled = issues.filter(({ code, path }) => code === "unrecognized_keys" || !isUndecided(plan, path));
  return [...undecidedFaults(plan), ...settled.flatMap((issue) => faultsOfIssue(issue, schema))];
}

/** eligibility[0].oneOf[1], as it would be written. */
export function placeInPlan(path: readonly PropertyKey[]): string {
  const text = path.map((part) => (/^\d+$/.test(String(part)) ? `[${String(part)}]` : `.${String(part)}`));
  return text.join("").replace(/^\./, "");
}

function faultsOfIssue(issue: z.core.$ZodIssue, schema: z.ZodObject): PlanFault[] {
  const place = placeInPlan(issue.path) || "plan";
  if (issue.code === "unrecognized_keys") {
    const words = keysAt(schema, issue.path);
    return issue.keys.map((written) => unknownKey([...issue.path, written], written, words));
  }
  const fault = { code: "plan-shape", place, what: issue.message };
  if (issue.code !== "invalid_value" || issue.values.length <= LONGEST_LINE_OF_VALUES) return [fault];
  return [{ ...fault, known: { heading: `What may stand in ${place}`, words: issue.values.map(String) } }];
}

function unknownKey(path: readonly PropertyKey[], written: string, words: readonly string[]): PlanFault {
  const of = placeInPlan(path.slice(0, -1));
  const heading = of === "" ? "What a plan says" : `What ${of} says`;
  return unknownWord({
    code: "plan-shape",
    place: placeInPlan(path),
    written,
    is: "is nothing that a plan says here",
    known: { heading, words },
    nearest: nearestWord(written, words),
    otherwise: "take it out, or write one of those listed below",
  });
}

/** The keys that the record at a place takes. */
function keysAt(schema: z.ZodObject, path: readonly PropertyKey[]): readonly string[] {
  const found = path.reduce<unknown>((part, key) => {
    const whole = part instanceof z.ZodOptional ? part.unwrap() : part;
    if (whole instanceof z.ZodArray) return whole.element;
    return whole instanceof z.ZodObject ? whole.shape[String(key)] : undefined;
  }, schema);
  const record = found instanceof z.ZodOptional ? found.unwrap() : found;
  return record instanceof z.ZodObject ? Object.keys(record.shape) : [];
}
