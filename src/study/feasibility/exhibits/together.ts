import type { Cell, TableExhibit } from "../../../disclosure/exhibit.ts";
import { keyPart } from "../../../disclosure/key-part.ts";
import type { StepsTogether } from "../../../technique/steps-together.ts";
import { sized, textCell } from "../../sections/cells.ts";
import type { FeasibilityRun } from "../run-feasibility.ts";

/** Who does what with what: a map of how the steps go together. */
export function togetherExhibit(run: Omit<FeasibilityRun, "exhibits">): TableExhibit {
  const { together } = run.exposure;
  const steps = (run.outcomes[0]?.questions ?? []).map(({ title }) => title);
  return {
    kind: "table",
    id: "together",
    title: "How the steps go together: how much more often the row's step is done where the column's is",
    columns: [
      { id: "step", label: "This step" },
      ...steps.map((step, at) => ({
        id: `with-${at}`,
        label: step,
        align: "end" as const,
      })),
    ],
    rows: steps.map((row) => ({
      label: row,
      cells: steps.map((column): Cell => {
        const pair = together.find(
          ({ first, second }) => (first === column && second === row) || (first === row && second === column),
        );
        if (pair === undefined) return textCell("");
        return differenceCell(
          pair.counts,
          pair.first === column,
          `${keyPart(pair.first)}/${keyPart(pair.second)}`,
        );
      }),
    })),
    notes: [
      "Percentage points: share done where the column's step is done, minus the share where it is not, among those with both steps recorded. Far from 0 the two cannot be told apart.",
    ],
  };
}

function differenceCell(counts: StepsTogether, columnIsFirst: boolean, pair: string): Cell {
  const { both, firstOnly, secondOnly, neither } = counts;
  const [columnOnly, rowOnly] = columnIsFirst ? [firstOnly, secondOnly] : [secondOnly, firstOnly];
  const [withColumn, withoutColumn] = [both.units + columnOnly.units, rowOnly.units + neither.units];
  if (withColumn === 0 || withoutColumn === 0) return textCell("none");
  return {
    kind: "number",
    value: 100 * (both.units / withColumn - rowOnly.units / withoutColumn),
    decimals: 0,
    restsOn: Object.entries(counts).map(([name, size]) => sized(`together/${pair}/${name}`, size)),
  };
}
