import { ArgumentError } from "../base/errors.ts";
import { TIME_UNITS } from "../base/time-unit.ts";
import { checkPieces } from "./case-pieces.ts";
import {
  type Clusters,
  type LabelledCodes,
  type ObservationColumns,
  type Observations,
  WEIGHT_KINDS,
} from "./observations.ts";

const WHERE = "checkObservations";
const MOST_TICKS = 2_147_483_647;
const MOST_CAUSES = 255;
const MOST_LABELS = 65_535;
/** Records this function has passed: given again, they are returned as they are. */
const passed = new WeakSet<object>();

/**
 * Follow-up that estimators can rely on: every column complete, whole, in range and of one length.
 *
 * The columns are copied, never changed. At risk is (entry, exit]; an entry of −1 means from before tick 0, as does
 * leaving entry out, and only such a row may end on tick 0. With case ids the pieces of a case must follow each
 * other without gap or overlap, and only the last may hold an event. A weight of 0 leaves its row out.
 *
 * @throws ArgumentError naming the first row at fault, counted from 1; values of rows are never printed.
 *
 * @example
 * checkObservations({ exit: [3, 5], event: [1, 0], group: { codes: [0, 1], labels: ["a", "b"] } }).rows; // 2
 */
export function checkObservations(columns: ObservationColumns): Observations {
  if (isChecked(columns)) return columns;
  const rows = columns.exit.length;
  const { causes = ["event"], timeUnit = TIME_UNITS.day } = columns;
  requireLabels("causes", causes, MOST_CAUSES);
  const exit = wholeColumn("exit", columns.exit, rows, 0, MOST_TICKS, new Int32Array(rows));
  const observations: Observations = {
    rows,
    exit,
    event: wholeColumn("event", columns.event, rows, 0, causes.length, new Uint8Array(rows)),
    group: codesOf("group", columns.group, rows),
    stratum: codesOf("stratum", columns.stratum, rows),
    causes: [...causes],
    timeUnit,
    ...(columns.entry && { entry: entryOf(columns.entry, exit) }),
    ...(columns.weight && { weight: weightOf(columns.weight, rows) }),
    ...(columns.cluster && { cluster: clusterOf(columns.cluster, rows) }),
    ...(columns.caseId && {
      caseId: wholeColumn("caseId", columns.caseId, rows, 0, MOST_TICKS, new Int32Array(rows)),
    }),
  };
  checkPieces(observations);
  passed.add(observations);
  return observations;
}

function isChecked(columns: ObservationColumns): columns is Observations & ObservationColumns {
  return passed.has(columns);
}

function wholeColumn<Column extends Int32Array | Uint8Array | Uint16Array>(
  name: string,
  source: ArrayLike<number>,
  rows: number,
  least: number,
  most: number,
  target: Column,
): Column {
  requireLength(name, source, rows);
  for (let row = 0; row < rows; row += 1) {
    const value = source[row];
    // One comparison chain refuses NaN, undefined, fractions and the infinities alike.
    if (value === undefined || !(value >= least && value <= most) || value !== Math.floor(value)) {
      throw new ArgumentError(
        `${WHERE}: row ${row + 1}, ${name}: must be a whole number from ${least} to ${most}`,
      );
    }
    target[row] = value;
  }
  return target;
}

function entryOf(source: ArrayLike<number>, exit: Int32Array): Int32Array {
  const entry = wholeColumn("entry", source, exit.length, -1, MOST_TICKS, new Int32Array(exit.length));
  for (let row = 0; row < entry.length; row += 1) {
    // Both indexes are in range.
    if (exit[row]! <= entry[row]!) {
      throw new ArgumentError(
        `${WHERE}: row ${row + 1}, exit not after entry: such a row is never at risk; ` +
          "leave it out, or write entry −1 where it was at risk from before tick 0",
      );
    }
  }
  return entry;
}

function codesOf(name: string, source: LabelledCodes | undefined, rows: number) {
  if (source === undefined) return { codes: new Uint16Array(rows), labels: ["all"] };
  requireLabels(name, source.labels, MOST_LABELS);
  const codes = wholeColumn(name, source.codes, rows, 0, source.labels.length - 1, new Uint16Array(rows));
  return { codes, labels: [...source.labels] };
}

function weightOf(source: NonNullable<ObservationColumns["weight"]>, rows: number) {
  const { kind, values } = source;
  if (!WEIGHT_KINDS.includes(kind)) {
    throw new ArgumentError(`${WHERE}: weight kind must be ${WEIGHT_KINDS.join(" or ")}`);
  }
  requireLength("weight", values, rows);
  const copy = new Float64Array(rows);
  let total = 0;
  for (let row = 0; row < rows; row += 1) {
    const value = values[row];
    if (value === undefined || !(value >= 0) || value === Number.POSITIVE_INFINITY) {
      throw new ArgumentError(`${WHERE}: row ${row + 1}, weight: must be a finite number from 0 up`);
    }
    if (kind === "copies" && value !== Math.floor(value)) {
      throw new ArgumentError(
        `${WHERE}: row ${row + 1}, weight: copies must be whole (declare "sampling" for shares)`,
      );
    }
    copy[row] = value;
    total += value;
  }
  if (rows > 0 && total === 0)
    throw new ArgumentError(`${WHERE}: every weight is 0; at least one must be above 0`);
  return { kind, values: copy };
}

function clusterOf(source: Clusters, rows: number) {
  const given = wholeColumn("cluster", source.codes, rows, 0, MOST_TICKS, new Int32Array(rows));
  // Renumbered in order of appearance, so that sums by cluster need one array of `count` elements.
  const numbers = new Map<number, number>();
  const codes = given.map((code) => {
    const known = numbers.get(code);
    if (known !== undefined) return known;
    numbers.set(code, numbers.size);
    return numbers.size - 1;
  });
  return { codes, count: numbers.size, word: source.word };
}

function requireLength(name: string, source: ArrayLike<number>, rows: number): void {
  if (source.length === rows) return;
  throw new ArgumentError(
    `${WHERE}: ${name} has ${source.length} elements and exit has ${rows}; every column needs one element a row`,
  );
}

function requireLabels(name: string, labels: readonly string[], most: number): void {
  if (labels.length === 0 || labels.length > most) {
    throw new ArgumentError(`${WHERE}: ${name} needs from 1 to ${most} labels; received ${labels.length}`);
  }
  if (new Set(labels).size < labels.length) throw new ArgumentError(`${WHERE}: ${name} repeats a label`);
}
