import { ArgumentError } from "../base/errors.ts";
import { clearCount } from "./cell.ts";
import type { ClearedCell, ClearedFlow } from "./cleared.ts";
import type { Clearing } from "./clearing.ts";
import type { Count, FlowExhibit } from "./exhibit.ts";
import { AS_BEFORE_NOTE } from "./held/mark.ts";
import { flowPlace } from "./held/places.ts";
import { balance, type Entry, enter, type Ledger } from "./ledger.ts";

interface Sized {
  readonly label: string;
  readonly units: Count;
  readonly persons?: Count;
}

/**
 * Notes every count of a flow, that each box is the next one and what was taken out between them, and that the
 * last box is its groups.
 *
 * What a box holds beyond that is a count of its own. Persons with one unit in and one out make the persons of a
 * box fewer than the sum; they are balanced all the same, which is the cautious reading.
 */
export function enterFlow(ledger: Ledger, flow: FlowExhibit): void {
  for (const [place, box] of flow.boxes.entries()) {
    const next = flow.boxes[place + 1];
    const parts = next === undefined ? flow.groups : [next, ...(box.removed ?? [])];
    const total = enterSized(ledger, box);
    const entered = parts.map((part) =>
      enterSized(ledger, part, next !== undefined && part === next ? 0 : 1),
    );
    if (parts.length === 0) continue;
    divide(
      ledger,
      total.units,
      entered.map((part) => part.units),
    );
    const persons = entered.map((part) => part.persons).filter((entry) => entry !== undefined);
    if (total.persons !== undefined && persons.length === parts.length)
      balance(ledger, total.persons, persons);
  }
}

/** The flow as the ledger's readers may see it. */
export function clearFlow(clearing: Clearing, flow: FlowExhibit): ClearedFlow {
  const boxes = flow.boxes.map((box) => ({
    ...clearSized(clearing, "box", box),
    removed: (box.removed ?? []).map((removed) => clearSized(clearing, "out", removed)),
  }));
  const groups = flow.groups.map((group) => clearSized(clearing, "group", group));
  const asBefore = [...boxes.flatMap((box) => [box, ...box.removed]), ...groups].some(
    ({ units, persons }) => units.asBefore || persons?.asBefore,
  );
  return {
    kind: "flow",
    id: flow.id,
    title: flow.title,
    unitWord: flow.unitWord,
    personWord: flow.personWord,
    boxes,
    groups,
    notes: [...(flow.notes ?? []), ...(asBefore ? [AS_BEFORE_NOTE] : [])],
  };
}

function enterSized(
  ledger: Ledger,
  { units, persons }: Sized,
  places = 1,
): { units: Entry; persons?: Entry } {
  if (persons === undefined) return { units: enter(ledger, units, places) };
  const owned = { ...units, persons: Math.min(units.persons ?? persons.units, persons.units) };
  return { units: enter(ledger, owned, places), persons: enter(ledger, persons, places) };
}

function divide(ledger: Ledger, total: Entry, parts: readonly Entry[]): void {
  const left = total.units - parts.reduce((units, part) => units + part.units, 0);
  if (left < 0)
    throw new ArgumentError(`disclose: flow box "${total.key}" is smaller than what comes out of it`);
  if (left === 0) balance(ledger, total, parts);
  else balance(ledger, total, [...parts, enter(ledger, { key: `${total.key} not listed`, units: left })]);
}

function clearSized(clearing: Clearing, kind: "box" | "out" | "group", { label, units, persons }: Sized) {
  const cells: { units: ClearedCell; persons?: ClearedCell } = {
    units: clearCount(clearing, units, flowPlace(kind, label, "units")),
  };
  if (persons !== undefined) cells.persons = clearCount(clearing, persons, flowPlace(kind, label, "persons"));
  return { label, ...cells };
}
