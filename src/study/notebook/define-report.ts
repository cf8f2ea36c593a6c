import { ArgumentError } from "../../base/errors.ts";
import type { Exhibit } from "../../disclosure/exhibit.ts";
import type { Block } from "../../report/block.ts";
import type { Figures } from "../making/section.ts";
import type { ClearedView } from "../making/view.ts";

/** A report that is not a study of one export: a check of the package, a collection of tables. */
export interface ReportDeclaration {
  /** Folder name of the report: lower-case words joined by hyphens. */
  readonly id: string;
  readonly title: string;
  readonly subtitle: string;
  readonly exhibits: () => readonly Exhibit[] | Promise<readonly Exhibit[]>;
  /** Sections of the page, from cleared values only. */
  readonly sections: (
    view: ClearedView,
    figures: Figures,
  ) => readonly (Block & { readonly kind: "section" })[];
}

export interface OwnReport extends ReportDeclaration {
  readonly kind: "report";
}

/**
 * Declares a report with exhibits of its own. Importing the notebook runs nothing.
 *
 * @example
 * defineReport({
 *   id: "own-check",
 *   title: "A check of my own",
 *   subtitle: "",
 *   exhibits: () => [],
 *   sections: () => [],
 * }).kind; // "report"
 */
export function defineReport(declaration: ReportDeclaration): OwnReport {
  if (!/^[a-z0-9]+(-[a-z0-9]+)*$/.test(declaration.id)) {
    throw new ArgumentError(
      `defineReport: id must be lower-case words joined by hyphens; received "${declaration.id}"`,
    );
  }
  return { kind: "report", ...declaration };
}
