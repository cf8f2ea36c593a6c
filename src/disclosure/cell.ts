import {
  count as countText,
  fixed,
  percent,
  pValue as pText,
  roundDecimals,
  roundSignificant,
  significant,
} from "../base/display.ts";
import type { ClearedCell } from "./cleared.ts";
import type { Clearing } from "./clearing.ts";
import { coarseCell } from "./coarse-cell.ts";
import type { Cell, Count } from "./exhibit.ts";
import { fullFigures } from "./full-figures.ts";
import { enter, enterRest, type Ledger, whyHidden } from "./ledger.ts";

/** One word for a small count and for one that would give it back: which is which is nobody's business. */
export const HIDDEN_CELL: ClearedCell = { text: "hidden", values: [], hidden: true };

const ANALYST_STATISTIC_FIGURES = 6;
const STATISTIC_FIGURES = 3;
/** No percentage of fewer than these; from the second on, one decimal. */
const PERCENT_FROM = 20;
const DECIMAL_FROM = 100;

/** Notes the counts of a cell, and that a reader meets them here. */
export function enterCell(ledger: Ledger, cell: Cell): void {
  for (const count of countsOf(cell)) enter(ledger, count, givesCountsAway(cell) ? 1 : 0);
  if (cell.kind === "share") enterRest(ledger, cell.whole, cell.part);
}

/**
 * The cell as the ledger's readers may see it.
 *
 * Where nothing but a report that the readers hold speaks against it, and that report has the same number as it was a few
 * before, they get that one again, marked: it tells nothing.
 */
export function clearCell(clearing: Clearing, cell: Cell, place?: string): ClearedCell {
  const { ledger, note } = clearing;
  const why = whyHidden(ledger, countsOf(cell));
  if (why !== undefined) {
    const before =
      why === "held" && place !== undefined ? clearing.before.cell(place, countsOf(cell)) : undefined;
    const coarse = before === undefined ? coarseCell(ledger, cell) : undefined;
    note(coarse === undefined ? (before === undefined ? "hidden" : "before") : "coarse");
    return coarse ?? before ?? HIDDEN_CELL;
  }
  const { text, values, printed } = shown(cell, ledger.threshold > 0);
  return { text, values: ledger.threshold > 0 ? printed : values.map(fullFigures), hidden: false };
}

/** A count that no table cell holds. */
export function clearCount(clearing: Clearing, count: Count, place?: string): ClearedCell {
  return clearCell(clearing, { kind: "count", count }, place);
}

/** Counts on which a cell rests. */
export function countsOf(cell: Cell): readonly Count[] {
  switch (cell.kind) {
    case "text":
      return [];
    case "none":
      return cell.restsOn ?? [];
    case "count":
      return [cell.count];
    case "share":
      return [cell.part, cell.whole];
    default:
      return cell.restsOn;
  }
}

/** A rate times its years, or a share times its whole, gives the count; a p-value does not. */
function givesCountsAway(cell: Cell): boolean {
  return cell.kind !== "pValue" && cell.kind !== "none";
}

interface Shown {
  readonly text: string;
  /** At full precision. */
  readonly values: readonly number[];
  /** As the text has them. */
  readonly printed: readonly number[];
}

function shown(cell: Cell, coarse: boolean): Shown {
  switch (cell.kind) {
    case "text":
      return { text: cell.text, values: [], printed: [] };
    case "none":
      return { text: cell.because, values: [], printed: [] };
    case "count":
      return { text: countText(cell.count.units), values: [cell.count.units], printed: [cell.count.units] };
    case "share":
      return shareShown(cell.part.units, cell.whole.units);
    case "number":
      return {
        text: `${fixed(cell.value, cell.decimals)}${cell.suffix ?? ""}`,
        values: [cell.value],
        printed: [roundDecimals(cell.value, cell.decimals)],
      };
    case "numbers":
      return numbersShown(cell.form, cell.values, cell.decimals);
    case "pValue":
      return { text: pText(cell.p), values: [cell.p], printed: [printedP(cell.p)] };
    case "statistic": {
      const figures = coarse ? STATISTIC_FIGURES : ANALYST_STATISTIC_FIGURES;
      return {
        text: significant(cell.value, figures),
        values: [cell.value],
        printed: [roundSignificant(cell.value, STATISTIC_FIGURES)],
      };
    }
  }
}

function shareShown(part: number, whole: number): Shown {
  if (whole < PERCENT_FROM) {
    return {
      text: `${countText(part)} of ${countText(whole)}`,
      values: [part, whole],
      printed: [part, whole],
    };
  }
  const decimals = whole < DECIMAL_FROM ? 0 : 1;
  const inPercent = (100 * part) / whole;
  return {
    text: `${countText(part)} (${percent(part / whole, decimals)})`,
    values: [part, inPercent],
    printed: [part, roundDecimals(inPercent, decimals)],
  };
}

function numbersShown(form: string, values: readonly number[], decimals: number): Shown {
  const texts = values.map((value) => fixed(value, decimals));
  return {
    text: form.replace(/\{(\d+)\}/g, (place, index) => texts[Number(index)] ?? place),
    values,
    printed: values.map((value) => roundDecimals(value, decimals)),
  };
}

/** The number within the words: the floor of "< 0.001", the ceiling of "> 0.99". */
function printedP(p: number): number {
  if (p < 0.001) return 0.001;
  return p > 0.99 ? 0.99 : roundSignificant(p, 2);
}
