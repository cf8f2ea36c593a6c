import type { z } from "zod";
import { nearestWord } from "../../base/nearest-word.ts";

/** So many values stand in a sentence; more stand in a list beneath it. */
export const LONGEST_LINE_OF_VALUES = 5;

type Issue = z.core.$ZodRawIssue;

/** What kind of value a place of the plan takes. */
const KINDS: Readonly<Record<string, string>> = {
  string: "text",
  number: "a number",
  int: "a whole number",
  array: "a list in [ ]",
  object: "a record in { }",
  boolean: "true or false",
};

/** What is wrong with a place of the plan, and what is accepted there, in plain words. Unknown keys have faults of their own. */
export function planIssueWords(issue: Issue): string {
  switch (issue.code) {
    case "invalid_type": {
      const kind = KINDS[issue.expected] ?? issue.expected;
      return issue.input === undefined ? `is missing; give ${kind}` : `must be ${kind}`;
    }
    case "invalid_value":
      return notAValue(issue);
    case "too_small":
      return tooSmall(issue);
    case "too_big":
      return `must be ${issue.inclusive === true ? "at most" : "below"} ${issue.maximum}`;
    default:
      return "is not as it should be";
  }
}

function notAValue({ input, values }: Extract<Issue, { code: "invalid_value" }>): string {
  const said = values.map((value) => JSON.stringify(value)).join(" or ");
  const accepted =
    values.length > LONGEST_LINE_OF_VALUES ? "must be one of those listed below" : `must be ${said}`;
  if (typeof input !== "string") return accepted;
  const nearest = nearestWord(input, values.map(String));
  return `${accepted}, not "${input}"${nearest === undefined ? "" : `; did you mean "${nearest}"?`}`;
}

function tooSmall({ origin, minimum, inclusive }: Extract<Issue, { code: "too_small" }>): string {
  if (origin === "string") return "must not be empty";
  if (origin === "array") return `must list at least ${minimum}`;
  return `must be ${inclusive === true ? "at least" : "above"} ${minimum}`;
}
