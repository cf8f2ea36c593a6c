import { pathToFileURL } from "node:url";
import { UsageError } from "../../base/errors.ts";
import type { AdherenceStudy } from "../adherence/define-adherence.ts";
import type { FeasibilityStudy } from "../feasibility/define-feasibility.ts";
import type { Study } from "../plan/define-study.ts";
import type { OwnReport } from "./define-report.ts";
import { notebookFault } from "./notebook-fault.ts";
import { type NotebookSource, notebookSource } from "./notebook-source.ts";

/** A notebook file's plan and text. */
export interface LoadedNotebook {
  readonly declared: Study | OwnReport | FeasibilityStudy | AdherenceStudy;
  readonly source: NotebookSource;
}

const KINDS = [
  "study",
  "report",
  "feasibility",
  "adherence",
] as const satisfies readonly LoadedNotebook["declared"]["kind"][];

/**
 * Imports a notebook and hands out what it declares. Nothing is run.
 *
 * @throws UsageError where the file cannot be read or imported, or does not default-export `defineStudy(…)`, `defineFeasibility(…)`,
 * `defineAdherence(…)` or `defineReport(…)`.
 */
export async function loadNotebook(path: string): Promise<LoadedNotebook> {
  if (!/\.[cm]?[jt]s$/.test(path)) {
    throw new UsageError(
      "not-a-notebook",
      `${path}: a notebook is a .ts file; name one such as notebooks/my-question.ts`,
    );
  }
  const source = notebookSource(path);
  const module = await imported(path);
  if (!isDeclaration(module.default)) {
    throw new UsageError(
      "not-a-notebook",
      `${path}: has no study to run; end it with "export default defineStudy({ … })"`,
    );
  }
  return { declared: module.default, source };
}

async function imported(path: string): Promise<{ readonly default?: unknown }> {
  try {
    return await import(pathToFileURL(path).href);
  } catch (error) {
    throw notebookFault(path, error, true);
  }
}

function isDeclaration(value: unknown): value is LoadedNotebook["declared"] {
  if (typeof value !== "object" || value === null || !("kind" in value)) return false;
  return KINDS.some((kind) => kind === value.kind);
}
