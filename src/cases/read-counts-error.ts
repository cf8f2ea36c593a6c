import { UsageError } from "../base/errors.ts";
import type { Findings } from "../base/finding.ts";
import { describeCountsFinding } from "./read-counts-messages.ts";

/** A counts file that cannot be used. `findings` holds every reason, each with its line. */
export class CountsError extends UsageError {
  readonly findings: Findings;

  constructor(path: string, findings: Findings) {
    super(
      "counts-unusable",
      [`${path}: the counts cannot be used:`, ...findings.groups.map(describeCountsFinding)].join("\n  "),
    );
    this.findings = findings;
  }
}
