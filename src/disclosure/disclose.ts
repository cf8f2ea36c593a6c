import { ArgumentError } from "../base/errors.ts";
import { AUDIENCES, type Audience, THRESHOLDS } from "./audience.ts";
import type { ClearedExhibit, ClearedExhibits, DisclosureAct } from "./cleared.ts";
import { markCleared } from "./cleared-value.ts";
import { ACTS, type Clearing, openClearing } from "./clearing.ts";
import { enterIncrements, thinChain } from "./cumulative.ts";
import { clearCurves, enterCurves } from "./curve.ts";
import { type CurvePlan, planCurves } from "./curve-plan.ts";
import type { AnalystExhibits, CurveExhibit, Exhibit, LineExhibit } from "./exhibit.ts";
import { clearFlow, enterFlow } from "./flow.ts";
import { before } from "./held/before.ts";
import { enterHeld } from "./held/enter-held.ts";
import type { HeldReport } from "./held/held-report.ts";
import { toldCounts } from "./held/told-counts.ts";
import { type Ledger, openLedger } from "./ledger.ts";
import { clearLines } from "./lines.ts";
import { hideSmallCounts } from "./primary.ts";
import { hideWhatGivesBack } from "./secondary.ts";
import { clearTable, enterTable } from "./table.ts";

export interface DiscloseOptions {
  /** Reports that the same readers hold already, the oldest first: other plans, data cuts or copies. */
  readonly readersHold?: readonly HeldReport[];
  /**
   * What the numbers are numbers of (`HeldReport.definition`): one that may not be told is given as before by a report of the
   * same definition alone. Left out, it is hidden.
   */
  readonly definition?: string | undefined;
}

/** What is shown to somebody: analysts' exhibits are made by now. */
type Shown = Exclude<Exhibit, AnalystExhibits> | LineExhibit;

/** An exhibit with the part of its curves that its audience may see at all. */
type Planned =
  | { readonly exhibit: Exclude<Shown, CurveExhibit> }
  | { readonly exhibit: CurveExhibit; readonly plans: readonly CurvePlan[] };

/**
 * All exhibits of a report as an audience may see them: small counts and whatever would give them back are hidden.
 *
 * What is for analysts alone is left out for others, and the log names it.
 *
 * Counts from 1 to below the audience's threshold are hidden wherever they appear, with the percentages, estimates
 * and p-values that rest on them. The smaller of units and persons decides. Zeros are shown; n of n is treated like
 * n − 1 of n. Then the whole report is searched for totals, differences of tables, flows and years that would give
 * a hidden count back (`hideWhatGivesBack`, a heuristic that states its limits). Curves are coarsened to months and
 * to steps of at least the threshold (`drawCurve`). A wider circle sees no number that a narrower one does not, so that
 * two copies of one run tell no more than one. For analysts nothing is hidden and numbers have 12 significant digits; for
 * others values are the printed ones.
 *
 * Readers may hold reports of other plans or data cuts. What would differ from those by a small number is then guarded like a
 * small count (`tooNear`), and given as a report of the same definition gives it, marked, or hidden. Reports that are not named are not thought of.
 *
 * It sees only counts with their keys, declared relations, and numbers that name what they rest on. Words in titles,
 * labels and notes are taken as they are.
 *
 * @throws ArgumentError where one key has two values, parts do not add up, or two exhibits share an id.
 *
 * @example
 * const table = {
 *   kind: "table",
 *   id: "events",
 *   title: "Events",
 *   columns: [{ id: "group", label: "Group" }, { id: "events", label: "Events" }],
 *   rows: [{ label: "a", cells: [{ kind: "count", count: { key: "events/a", units: 3, persons: 3 } }] }],
 * } as const;
 * disclose([table], "committee").exhibits[0]; // "hidden"
 * disclose([table], "analyst").exhibits[0]; // 3
 */
export function disclose(
  exhibits: readonly Exhibit[],
  audience: Audience,
  { readersHold = [], definition }: DiscloseOptions = {},
): ClearedExhibits {
  requireAudience(audience);
  const shown = exhibits.flatMap((one): readonly Shown[] => {
    if (one.kind !== "for analysts") return [one];
    return audience === "analyst" ? one.exhibits() : [];
  });
  requireOwnIds(shown);
  const threshold = THRESHOLDS[audience];
  const planned = planFor(shown, audience);
  const ledger = fillLedger(planned, threshold, readersHold, narrowerLedger(shown, audience, readersHold));
  const cleared = planned.map((one) => {
    const clearing = openClearing(
      ledger,
      one.exhibit,
      before(readersHold, one.exhibit, { threshold, definition }),
    );
    return { exhibit: markCleared(clearExhibit(clearing, one)), acts: clearing.acts() };
  });
  return {
    audience,
    threshold,
    exhibits: cleared.map(({ exhibit }) => exhibit),
    log: [...cleared.flatMap(({ acts }) => acts), ...(audience === "analyst" ? [] : keptOnes(exhibits))],
    held: readersHold.map(({ id, audience: readers, hash }) => ({ id, audience: readers, hash })),
    ...(threshold === 0
      ? {}
      : {
          told: toldCounts(
            ledger,
            planned,
            cleared.map(({ exhibit }) => exhibit),
          ),
        }),
  };
}

function keptOnes(exhibits: readonly Exhibit[]): DisclosureAct[] {
  return exhibits.flatMap((one) =>
    one.kind === "for analysts" ? [{ exhibit: one.id, title: one.title, act: ACTS.kept, cells: 1 }] : [],
  );
}

function planFor(shown: readonly Shown[], audience: Audience): Planned[] {
  const threshold = THRESHOLDS[audience];
  return shown.map((exhibit) =>
    exhibit.kind === "curves" ? { exhibit, plans: planCurves(exhibit, audience, threshold) } : { exhibit },
  );
}

/** Whoever reads the wider circle's copy beside the narrower one's shall learn nothing from the difference. */
function narrowerLedger(
  shown: readonly Shown[],
  audience: Audience,
  readersHold: readonly HeldReport[],
): Ledger | undefined {
  if (audience !== "external") return undefined;
  return fillLedger(planFor(shown, "committee"), THRESHOLDS.committee, readersHold, undefined);
}

/** Every count of the report, and which of them are hidden. */
function fillLedger(
  planned: readonly Planned[],
  threshold: number,
  readersHold: readonly HeldReport[],
  narrower: Ledger | undefined,
): Ledger {
  const ledger = openLedger(threshold, narrower);
  for (const { exhibit } of planned) {
    if (exhibit.kind === "table") enterTable(ledger, exhibit);
    if (exhibit.kind === "flow") enterFlow(ledger, exhibit);
  }
  // Curves come last: what they leave unnamed takes the keys that tables and flows gave it.
  for (const one of planned) {
    if ("plans" in one) enterCurves(ledger, one.plans);
  }
  if (threshold === 0) return ledger;
  const chains = enterIncrements(ledger);
  hideSmallCounts(ledger);
  hideAsNarrower(ledger);
  enterHeld(ledger, readersHold);
  for (const chain of chains) thinChain(chain, threshold);
  hideWhatGivesBack(ledger);
  return ledger;
}

function hideAsNarrower({ entries, narrower }: Ledger): void {
  if (narrower === undefined) return;
  for (const entry of entries) entry.hidden ??= narrower.byKey.get(entry.key)?.hidden;
}

function clearExhibit(clearing: Clearing, planned: Planned): ClearedExhibit {
  if ("plans" in planned) return clearCurves(clearing, planned.exhibit, planned.plans);
  const { exhibit } = planned;
  switch (exhibit.kind) {
    case "table":
      return clearTable(clearing, exhibit);
    case "flow":
      return clearFlow(clearing, exhibit);
    case "lines":
      return clearLines(exhibit);
  }
}

function requireAudience(audience: Audience): void {
  if (AUDIENCES.includes(audience)) return;
  throw new ArgumentError(
    `disclose: audience must be one of ${AUDIENCES.join(", ")}; received "${audience}"`,
  );
}

function requireOwnIds(exhibits: readonly Shown[]): void {
  const seen = new Set<string>();
  for (const { id } of exhibits) {
    if (seen.has(id))
      throw new ArgumentError(`disclose: two exhibits have the id "${id}"; each needs its own`);
    seen.add(id);
  }
}
