import { highest } from "../../base/highest.ts";
import { capital } from "../../base/words.ts";
import type { ClearedCell, ClearedTable } from "../../disclosure/cleared.ts";
import { yearCell } from "../../disclosure/read-curve.ts";
import type { StudyFacts } from "../facts.ts";
import type { ClearedView } from "../making/view.ts";
import { listed, riskRowLabel, yearWords } from "../words.ts";
import { formLinesId } from "./form-lines.ts";
import { periodSigns } from "./rates.ts";

/**
 * What each figure shows, in a sentence, by exhibit: it stands above the figure and is part of its name.
 *
 * Read off cleared numbers; nothing is computed, and a figure whose numbers are hidden has none.
 */
export function findings(view: ClearedView, facts: StudyFacts): ReadonlyMap<string, string> {
  const found: Readonly<Record<string, string | undefined>> = {
    flow: comparedOf(view, facts),
    recording: notRecorded(view),
    completeness: leastComplete(view, facts),
    covariates: furthestApart(view),
    "crude-risk": crudeFinding(view, facts),
    "net-risk": netFinding(view, facts),
    "outcomes-at-years": outcomesFinding(view, facts),
    rates: ratesFinding(view, facts),
    "hazard-ratios": ratiosFinding(view),
    "effect-over-time": courseFinding(view),
    influence: influenceFinding(view),
  };
  const forms = (facts.plan.adjusters ?? []).map((_one, at) => formLinesId(at));
  const all = { ...found, ...Object.fromEntries(forms.map((id) => [id, formFinding(view, id)])) };
  return new Map(Object.entries(all).flatMap(([id, words]) => (words === undefined ? [] : [[id, words]])));
}

function comparedOf(view: ClearedView, facts: StudyFacts): string | undefined {
  const flow = view.flow("flow");
  const [first, last] = [flow?.boxes[0], flow?.boxes.at(-1)];
  if (flow === undefined || first === undefined || last === undefined) return undefined;
  if ([first, last, ...flow.groups].some(({ units }) => units.hidden)) return undefined;
  const groups = flow.groups.map(({ label, units }) => `${units.text} ${quoted(label)}`);
  return `Of ${first.units.text} ${facts.words.unit.many}, ${last.units.text} are compared: ${listed(groups)}.`;
}

function notRecorded(view: ClearedView): string | undefined {
  const row = view
    .table("recording")
    ?.rows.find(({ indent, label }) => indent === 0 && label === "not recorded");
  const cell = row?.cells[0];
  return cell === undefined || cell.hidden ? undefined : `Not recorded: ${cell.text}.`;
}

/** The row with the lowest percentage in any group; where one is hidden, that may be it. */
function leastComplete(view: ClearedView, facts: StudyFacts): string | undefined {
  const rows = view.table("completeness")?.rows ?? [];
  if (!rows.every(isTold)) return undefined;
  const least = highest(rows, ({ cells }) => -Math.min(...cells.map(lastValue)));
  if (least === undefined) return undefined;
  return `Least complete: ${least.label} (${byGroup(least.cells, facts)}).`;
}

/** The two covariates that differ most, where there is one pair of groups and no difference is hidden. */
function furthestApart(view: ClearedView): string | undefined {
  const table = view.table("covariates");
  const columns = table?.columns.flatMap(({ id }, at) => (id.startsWith("apart-") ? [at - 1] : [])) ?? [];
  const [at] = columns;
  if (table === undefined || at === undefined || columns.length > 1) return undefined;
  if (table.rows.some(({ cells }) => cells[at]?.hidden)) return undefined;
  const rows = table.rows.filter(({ cells }) => (cells[at]?.values.length ?? 0) > 0);
  const size = (row: Row) => Math.abs(row.cells[at]?.values[0] ?? 0);
  const first = highest(rows, size);
  const second = highest(
    rows.filter((row) => row !== first),
    size,
  );
  const named = [first, second].flatMap((row) =>
    row === undefined ? [] : [`${row.label} (${row.cells[at]?.text})`],
  );
  return named.length === 0 ? undefined : `Least alike: ${listed(named)}.`;
}

function crudeFinding(view: ClearedView, facts: StudyFacts): string | undefined {
  const year = facts.plan.years.at(-1) ?? 0;
  const cells = facts.groups.map((_group, at) =>
    view.cell("risk-at-years", riskRowLabel("crude", year), `group-${at}`),
  );
  if (!cells.every(hasNumbers)) return undefined;
  return `By ${yearWords(year)}, per 1000 ${facts.words.unit.many}: ${byGroup(cells, facts)}.`;
}

/** In the scale of its own curve, where every group's is drawn so far. */
function netFinding(view: ClearedView, facts: StudyFacts): string | undefined {
  const curves = view.curves("net-risk");
  const year = facts.plan.years.at(-1) ?? 0;
  if (curves === undefined) return undefined;
  const cells = facts.groups.map((group) => yearCell(curves, group, curves.years.indexOf(year)));
  return cells.every(hasNumbers)
    ? `By ${yearWords(year)}, in per cent: ${byGroup(cells, facts)}.`
    : undefined;
}

function outcomesFinding(view: ClearedView, facts: StudyFacts): string | undefined {
  const table = view.table("outcomes-at-years");
  const year = facts.plan.years.at(-1) ?? 0;
  const from = table?.rows.findIndex(({ label }) => label === `By ${yearWords(year)}`) ?? -1;
  if (table === undefined || from < 0) return undefined;
  const rows = table.rows.slice(from + 1, from + 1 + facts.groups.length);
  const parts = table.columns.flatMap(({ id, label }, at) =>
    id.startsWith("part-") ? [{ label, cells: rows.map(({ cells }) => cells[at - 1]) }] : [],
  );
  if (!parts.every(({ cells }) => cells.every(hasNumbers))) return undefined;
  const outcomes = parts.map(
    ({ label, cells }) => `${label} ${cells.map((cell) => cell?.text).join(" and ")}`,
  );
  return `By ${yearWords(year)}, ${listed(facts.groups.map(quoted))}: ${outcomes.join("; ")}.`;
}

/** Which way each period points, with two groups alone: more would need a sentence a pair. */
function ratesFinding(view: ClearedView, facts: StudyFacts): string | undefined {
  const [first = "", second = "", ...others] = facts.groups;
  if (others.length > 0) return undefined;
  const periods = (view.table("rates")?.rows ?? [])
    .filter(({ heading }) => heading)
    .map(({ label }) => label);
  const signs = periodSigns(view, first, second);
  if (signs.length !== periods.length || signs.some((sign) => sign === undefined)) return undefined;
  const parts = [-1, 0, 1].flatMap((side) => {
    const those = periods.filter((_period, at) => signs[at] === side);
    const word = side < 0 ? "lower" : side > 0 ? "higher" : "equal";
    return those.length === 0
      ? []
      : [{ from: periods.indexOf(those[0] ?? ""), words: `${word} ${listed(those.map(within))}` }];
  });
  const inOrder = parts.sort((one, other) => one.from - other.from).map(({ words }) => words);
  return `Estimated rate with ${quoted(first)} against ${quoted(second)}: ${inOrder.join(", ")}.`;
}

/** "at 0–3 years", "over 5 years". */
function within(period: string): string {
  return period.startsWith("over ") ? period : `at ${period}`;
}

function ratiosFinding(view: ClearedView): string | undefined {
  const table = view.table("hazard-ratios");
  if (table === undefined) return undefined;
  const at = table.columns.length - 2;
  const [pair, ...more] = table.rows.filter(({ heading }) => heading);
  const rows = table.rows.filter(({ label, cells }) => label.includes("years") && hasNumbers(cells[at]));
  if (pair === undefined || more.length > 0 || rows.length === 0) return undefined;
  const kind = table.columns.at(-1)?.id === "adjusted" ? ", adjusted" : "";
  return `${capital(pair.label)}${kind}: ${rows.map(({ label, cells }) => `${label} ${cells[at]?.text}`).join("; ")}.`;
}

/** Where the ratio of each pair begins and ends. */
function courseFinding(view: ClearedView): string | undefined {
  const lines = view.lines("effect-over-time")?.lines.filter(({ thin, x }) => !thin && x.length > 1) ?? [];
  const parts = lines.map(({ label, x, y }) => {
    const at = (place: number) => `${short(y.at(place))} at ${short(x.at(place))} years`;
    return `${label}: ${at(0)}, ${at(-1)}`;
  });
  return parts.length === 0 ? undefined : `${capital(parts.join("; "))}.`;
}

/** Between which ratios the answer lies when one is left out: the lines ascend. */
function influenceFinding(view: ClearedView): string | undefined {
  const lines = view.lines("influence")?.lines ?? [];
  const parts = lines.flatMap(({ label, thin, y }, at) =>
    thin
      ? []
      : [`${label}, ${short(y[0])} to ${short(y.at(-1))} (with everybody ${short(lines[at + 1]?.y[0])})`],
  );
  return parts.length === 0 ? undefined : `${capital(parts.join("; "))}.`;
}

/** How far the events seen leave those expected, either way. */
function formFinding(view: ClearedView, id: string): string | undefined {
  const y = view.lines(id)?.lines[0]?.y ?? [];
  if (y.length === 0) return undefined;
  const [least, most] = [y, y].map((values, at) =>
    values.reduce((one, value) => (at === 0 ? Math.min(one, value) : Math.max(one, value))),
  );
  return `Between ${short(least)} and ${short(most)} times as many as expected.`;
}

function short(value: number | undefined): string {
  return value === undefined ? "" : String(Number(value.toPrecision(3)));
}

type Row = ClearedTable["rows"][number];

function isTold({ heading, cells }: Row): boolean {
  return !heading && cells.length > 0 && cells.every(hasNumbers);
}

function hasNumbers(cell: ClearedCell | undefined): cell is ClearedCell {
  return cell !== undefined && !cell.hidden && cell.values.length > 0;
}

function lastValue({ values }: ClearedCell): number {
  return values.at(-1) ?? 0;
}

function byGroup(cells: readonly ClearedCell[], facts: StudyFacts): string {
  return facts.groups.map((group, at) => `${quoted(group)} ${cells[at]?.text ?? ""}`).join(", ");
}

function quoted(label: string): string {
  return `“${label}”`;
}
