import type { PlanFault } from "../../base/plan-fault.ts";
import { type NotebookToken, notebookTokens } from "./notebook-tokens.ts";
import { planLines } from "./plan-lines.ts";

/**
 * Finds the line of a notebook on which a fault of its plan stands: that of its place, or the one line with the word at fault.
 * Nothing where neither is sure: a plan can be put together elsewhere.
 */
export function lineOfFault(source: string): (fault: PlanFault) => number | undefined {
  const tokens = notebookTokens(source);
  const lines = planLines(tokens);
  return ({ place, written }) => {
    const line = lines.get(place);
    if (written === undefined) return line;
    const said = tokens.filter((token) => says(token, written)).map((token) => token.line);
    if (line !== undefined && said.includes(line)) return line;
    return new Set(said).size === 1 ? said[0] : undefined;
  };
}

function says({ kind, text }: NotebookToken, written: string): boolean {
  return kind !== "mark" && text === written;
}
