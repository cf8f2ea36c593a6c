import type { RAnswer } from "./r-side.ts";
import type { PartTimes } from "./run-step.ts";

export interface MeasuredStep {
  readonly name: string;
  /** Undefined: a file of its own size. */
  readonly knees: number | undefined;
  readonly parts: readonly [string, string];
  readonly cold: PartTimes;
  readonly warm: PartTimes;
  readonly megabytes: number;
  readonly answer: number;
  /** Undefined: no script of R does this step, or R is not installed. */
  readonly inR: RAnswer | undefined;
}

const HEAD = ["step", "knees", "cold s", "as", "warm s", "MB", "R s", "of R", "answers differ by"];

/** The measured steps as a table of plain text. */
export function benchTable(measured: readonly MeasuredStep[]): string {
  const rows = [HEAD, ...measured.map(rowOf)];
  const widths = HEAD.map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  return rows
    .map((row) =>
      row
        .map((cell, column) => cell.padEnd(widths[column] ?? 0))
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
}

function rowOf({ name, knees, parts, cold, warm, megabytes, answer, inR }: MeasuredStep): string[] {
  const seconds = cold.first + cold.second;
  return [
    name,
    knees === undefined ? "" : String(knees),
    seconds.toFixed(3),
    `${parts[0]} ${cold.first.toFixed(3)} + ${parts[1]} ${cold.second.toFixed(3)}`,
    (warm.first + warm.second).toFixed(3),
    megabytes.toFixed(0),
    ...rCells(seconds, answer, inR),
  ];
}

function rCells(seconds: number, answer: number, inR: RAnswer | undefined): string[] {
  if (inR === undefined) return ["", "", ""];
  if (!inR.finished) return [inR.reason, "", ""];
  const relative = Math.abs(answer - inR.answer) / Math.abs(inR.answer);
  return [inR.seconds.toFixed(3), (inR.seconds / seconds).toFixed(1), relative.toExponential(0)];
}
