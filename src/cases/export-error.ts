import { UsageError } from "../base/errors.ts";
import type { Findings } from "../base/finding.ts";
import { describeFinding } from "./messages.ts";

/** The file cannot be read as a table at all. `findings` holds every reason, each with its line. */
export class ExportError extends UsageError {
  readonly findings: Findings;

  constructor(headline: string, findings: Findings) {
    super("export-unreadable", [`${headline}:`, ...findings.groups.map(describeFinding)].join("\n  "));
    this.findings = findings;
  }
}
