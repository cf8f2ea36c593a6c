import { UsageError } from "../base/errors.ts";
import type { Findings } from "../base/finding.ts";
import { numbered } from "../base/words.ts";
import { describeFinding } from "../cases/messages.ts";

/**
 * Hands the findings on, or stops where any is an error.
 *
 * @throws UsageError `export-has-errors` with one line for each code and field, its count and its first rows.
 */
export function refuseErrors(findings: Findings): Findings {
  if (findings.errors === 0) return findings;
  const lines = findings.groups
    .filter(({ severity }) => severity === "error")
    .map((group) => `  ${describeFinding(group)}`);
  throw new UsageError(
    "export-has-errors",
    `The export has ${numbered(findings.errors, "error")} and was not analysed:\n${lines.join("\n")}\nCorrect the export, then run again. "mantle check" lists warnings and notes too.`,
  );
}
