import { PIECE, pieceFlags } from "./case-pieces.ts";
import { checkObservations } from "./check-observations.ts";
import type { CountsByTime, CountsCell } from "./counts.ts";
import type { ObservationColumns, Observations } from "./observations.ts";
import { rowsByCell } from "./rows-by-cell.ts";
import { type TickSlots, tickSlots } from "./tick-slots.ts";

/**
 * How many were at risk, had the event, were censored or entered at each tick, by group and stratum.
 *
 * At risk is (entry, exit]; on one tick entries come last, events first, censorings after events. Rows of weight 0
 * are left out. Pieces of one case count as one case; a case that moves to another group or stratum is censored in
 * the one it leaves and enters the other. Takes time in proportion to the rows, not to rows times ticks.
 *
 * @example
 * countsByTime({ exit: [1, 2, 2, 3, 5], event: [1, 1, 0, 1, 0] }).cells[0]?.atRisk; // 5, 4, 2, 1
 */
export function countsByTime(columns: ObservationColumns): CountsByTime {
  const observations = checkObservations(columns);
  const { group, stratum, weight, causes, timeUnit } = observations;
  const flags = pieceFlags(observations);
  const cells = rowsByCell(observations).map((rows, cell) =>
    countCell(observations, rows, flags, {
      group: Math.floor(cell / stratum.labels.length),
      stratum: cell % stratum.labels.length,
    }),
  );
  return {
    kind: "countsByTime",
    timeUnit,
    causes,
    groups: group.labels,
    strata: stratum.labels,
    delayedEntry: observations.entry?.some((entry) => entry >= 0) ?? false,
    ...(weight && { weightKind: weight.kind }),
    cells,
  };
}

interface CellPlace {
  readonly group: number;
  readonly stratum: number;
}

/** Sums per tick slot: rows, or their weights, or the squares of their weights. */
interface SlotSums {
  readonly events: readonly Float64Array[];
  readonly censored: Float64Array;
  readonly entered: Float64Array;
  /** All exits and entries, those inside a case as well: at risk follows from these. */
  readonly left: Float64Array;
  readonly arrived: Float64Array;
}

function countCell(
  observations: Observations,
  rows: Uint32Array,
  flags: Uint8Array | undefined,
  place: CellPlace,
): CountsCell {
  const slots = tickSlots(observations, rows);
  const counted = emptySums(slots.count, observations.causes.length);
  addRows(observations, rows, flags, slots, counted, undefined);
  const values = observations.weight?.values;
  if (values === undefined) return cellOf(observations, rows, flags, place, slots, counted, undefined);
  const weighted = emptySums(slots.count, observations.causes.length);
  addRows(observations, rows, flags, slots, weighted, values);
  return cellOf(observations, rows, flags, place, slots, counted, weighted);
}

function emptySums(slots: number, causes: number): SlotSums {
  const zeros = () => new Float64Array(slots);
  return {
    events: Array.from({ length: causes }, zeros),
    censored: zeros(),
    entered: zeros(),
    left: zeros(),
    arrived: zeros(),
  };
}

// The hot loop: every index below is a row of the table or a slot made for its tick.
function addRows(
  { exit, event, entry }: Observations,
  rows: Uint32Array,
  flags: Uint8Array | undefined,
  { slotOf }: TickSlots,
  sums: SlotSums,
  weights: Float64Array | undefined,
): void {
  const { events, censored, entered, left, arrived } = sums;
  for (let k = 0; k < rows.length; k += 1) {
    const row = rows[k]!;
    const amount = weights === undefined ? 1 : weights[row]!;
    const flag = flags === undefined ? 0 : flags[row]!;
    const slot = slotOf(exit[row]!);
    const cause = event[row]!;
    left[slot]! += amount;
    if (cause > 0) events[cause - 1]![slot]! += amount;
    else if ((flag & PIECE.innerExit) === 0) censored[slot]! += amount;
    if (entry === undefined || entry[row]! < 0) continue;
    const entrySlot = slotOf(entry[row]!);
    arrived[entrySlot]! += amount;
    if ((flag & PIECE.innerEntry) === 0) entered[entrySlot]! += amount;
  }
}

function cellOf(
  observations: Observations,
  rows: Uint32Array,
  flags: Uint8Array | undefined,
  place: CellPlace,
  slots: TickSlots,
  counted: SlotSums,
  weighted: SlotSums | undefined,
): CountsCell {
  const used = usedSlots(slots.count, counted);
  const atRisk = atRiskAt(used, counted);
  const pick = (sums: Float64Array) => Float64Array.from(used, (slot) => sums[slot] ?? 0);
  return {
    ...place,
    cases: countCases(observations, rows, flags),
    time: Int32Array.from(used, slots.tickOf),
    atRisk,
    events: counted.events.map(pick),
    censored: pick(counted.censored),
    entered: pick(counted.entered),
    ...(weighted && {
      weighted: {
        // Suffix sums of fractions may leave a last digit where nobody is left.
        atRisk: weightAtRisk(observations, rows, slots, used, weighted).map((sum, k) =>
          atRisk[k] === 0 ? 0 : sum,
        ),
        events: weighted.events.map(pick),
        censored: pick(weighted.censored),
      },
    }),
    ticksAtRisk: ticksAtRisk(observations, rows),
  };
}

/** Slots at which anything happened; with weights also those at which a case only changed its weight. */
function usedSlots(slots: number, { left, arrived }: SlotSums): Uint32Array {
  const used = new Uint32Array(slots);
  let count = 0;
  for (let slot = 0; slot < slots; slot += 1) {
    if (left[slot]! > 0 || arrived[slot]! > 0) used[count++] = slot;
  }
  return used.slice(0, count);
}

/** At risk at a slot: those who leave at it or later, less those who come at it or later. */
function atRiskAt(used: Uint32Array, { left, arrived }: SlotSums): Float64Array {
  const atRisk = new Float64Array(used.length);
  let stillHere = 0;
  for (let k = used.length - 1; k >= 0; k -= 1) {
    const slot = used[k]!;
    // Entries come last on a tick, so who enters at this one is not yet at risk.
    stillHere += left[slot]! - arrived[slot]!;
    atRisk[k] = stillHere;
  }
  return atRisk;
}

/**
 * Weight at risk. What enters late is taken away again, so rounding errors are carried along, in twice the precision: a heavy
 * row that has not come yet must not drown the light ones that are there. Whoever leaves at a slot is at risk at it.
 */
function weightAtRisk(
  { exit, entry, weight }: Observations,
  rows: Uint32Array,
  { count, slotOf }: TickSlots,
  used: Uint32Array,
  weighted: SlotSums,
): Float64Array {
  if (entry === undefined || weight?.kind !== "sampling") return atRiskAt(used, weighted);
  const sums = new Float64Array(count);
  const lost = new Float64Array(count);
  const add = (slot: number, value: number) => {
    const before = sums[slot]!;
    const next = before + value;
    const taken = next - before;
    lost[slot]! += before - (next - taken) + (value - taken);
    sums[slot] = next;
  };
  for (const row of rows) {
    add(slotOf(exit[row]!), weight.values[row]!);
    if (entry[row]! >= 0) add(slotOf(entry[row]!), -weight.values[row]!);
  }
  for (let k = used.length - 2; k >= 0; k -= 1) {
    const [here, after] = [used[k]!, used[k + 1]!];
    add(here, sums[after]!);
    lost[here]! += lost[after]!;
  }
  return Float64Array.from(used, (slot) => Math.max(sums[slot]! + lost[slot]!, weighted.left[slot]!));
}

/** Each case once, however many pieces it is cut in; copies as often as they stand for a case. */
function countCases({ weight }: Observations, rows: Uint32Array, flags: Uint8Array | undefined): number {
  const copies = weight?.kind === "copies" ? weight.values : undefined;
  if (flags === undefined && copies === undefined) return rows.length;
  return rows.reduce((cases, row) => {
    const isCounted = ((flags?.[row] ?? 0) & PIECE.countedBefore) !== 0;
    return isCounted ? cases : cases + (copies?.[row] ?? 1);
  }, 0);
}

function ticksAtRisk({ exit, entry, weight }: Observations, rows: Uint32Array): number {
  const copies = weight?.kind === "copies" ? weight.values : undefined;
  let ticks = 0;
  for (let at = 0; at < rows.length; at += 1) {
    const row = rows[at]!;
    const stay = entry === undefined ? exit[row]! : exit[row]! - Math.max(0, entry[row]!);
    ticks += copies === undefined ? stay : stay * copies[row]!;
  }
  return ticks;
}
