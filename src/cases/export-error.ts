import { UsageError } from "../base/errors.ts";
import type { Findings } from "../base/finding.ts";

/** The file cannot be read as a table at all. `findings` holds every reason, each with its line. */
export class ExportError extends UsageError {
  readonly findings: Findings;

  constructor(message: string, findings: Findings) {
    super("export-unreadable", message);
    this.findings = findings;
  }
}
