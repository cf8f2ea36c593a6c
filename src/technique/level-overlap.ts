import { RECORDED_STATES } from "../cases/recorded-state.ts";
import { NO_LEVEL, type RowLevels } from "./row-levels.ts";

const DONE = RECORDED_STATES.indexOf("done");
const NOT_DONE = RECORDED_STATES.indexOf("notDone");

/** Where a step was both done and left out often enough to compare. */
export interface LevelOverlap {
  /** Rows recorded as done or not done. */
  readonly compared: number;
  /** Those of them at levels with both, in the order given. */
  readonly rowsWithBoth: Int32Array;
  readonly levelsWithBoth: readonly string[];
  /** How many levels do it under, from, and over the margin. */
  readonly under: number;
  readonly between: number;
  readonly over: number;
}

/**
 * At which surgeons, years or strata a step was both done and not done.
 *
 * A level has both where the share done among those recorded as done or not done lies from the margin to one minus the
 * margin, both included. Elsewhere a comparison rests on other levels altogether.
 */
export function levelOverlap(
  states: Uint8Array,
  rows: Int32Array,
  levels: RowLevels,
  margin: number,
): LevelOverlap {
  const done = new Int32Array(levels.labels.length);
  const recorded = new Int32Array(levels.labels.length);
  const compared = rows.filter((row) => states[row] === DONE || states[row] === NOT_DONE);
  for (const row of compared) {
    const level = levels.codes[row] ?? NO_LEVEL;
    if (level === NO_LEVEL) continue;
    // In range: codes are indexes into the labels.
    recorded[level]! += 1;
    if (states[row] === DONE) done[level]! += 1;
  }
  const standing = Array.from(recorded, (all, level) => standingOf(done[level] ?? 0, all, margin));
  const number = (wanted: Standing) => standing.filter((one) => one === wanted).length;
  return {
    compared: compared.length,
    rowsWithBoth: compared.filter((row) => standing[levels.codes[row] ?? NO_LEVEL] === "between"),
    levelsWithBoth: levels.labels.filter((_, level) => standing[level] === "between"),
    under: number("under"),
    between: number("between"),
    over: number("over"),
  };
}

type Standing = "nobody" | "under" | "between" | "over";

/** In whole numbers, so that exactly a tenth is a tenth. */
function standingOf(done: number, all: number, margin: number): Standing {
  if (all === 0) return "nobody";
  const slack = 1e-9 * all;
  if (done < margin * all - slack) return "under";
  return all - done < margin * all - slack ? "over" : "between";
}
