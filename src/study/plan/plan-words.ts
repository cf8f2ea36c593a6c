import type { z } from "zod";

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

/** What is wrong with a place of the plan, and what is accepted there, in plain words. */
export function planIssueWords(issue: Issue): string {
  switch (issue.code) {
    case "invalid_type": {
      const kind = KINDS[issue.expected] ?? issue.expected;
      return issue.input === undefined ? `is missing; give ${kind}` : `must be ${kind}`;
    }
    case "invalid_value":
      return `must be ${issue.values.map((value) => JSON.stringify(value)).join(" or ")}`;
    case "unrecognized_keys":
      return `has ${issue.keys.map((key) => `"${key}"`).join(", ")}, which a plan does not know; check the spelling`;
    case "too_small":
      return tooSmall(issue);
    case "too_big":
      return `must be ${issue.inclusive === true ? "at most" : "below"} ${issue.maximum}`;
    default:
      return "is not as it should be";
  }
}

function tooSmall({ origin, minimum, inclusive }: Extract<Issue, { code: "too_small" }>): string {
  if (origin === "string") return "must not be empty";
  if (origin === "array") return `must list at least ${minimum}`;
  return `must be ${inclusive === true ? "at least" : "above"} ${minimum}`;
}
