import { ArgumentError } from "../base/errors.ts";
import type { Cleared, ClearedTable } from "../disclosure/cleared.ts";
import { html, type Markup, when, wholeDates } from "./markup.ts";
import type { PageState } from "./page-state.ts";

type Row = ClearedTable["rows"][number];

export interface TableCaption {
  /** "Table 3", or what the table stands beside. */
  readonly lead: string;
  readonly title: string;
}

/** A table with its caption; a wide one scrolls in a frame of its own, which the keyboard can reach. */
export function renderTable(table: Cleared<ClearedTable>, caption: TableCaption, state: PageState): Markup {
  const looks = [
    ...(table.columns.length >= MANY_COLUMNS ? ["many"] : []),
    ...(table.rows.length <= MOST_TOGETHER ? ["short"] : []),
  ].join(" ");
  const captionId = state.uniqueId(`table-${table.id}-caption`);
  return html`<div class="scroll" role="group" tabindex="0" aria-labelledby="${captionId}"><table${when(looks !== "", html` class="${looks}"`)}>
<caption id="${captionId}"><div class="in-view"><span class="lead">${caption.lead}</span> ${caption.title}${stampOf(state)}</div></caption>
<thead><tr>${table.columns.map(columnHead)}</tr></thead>
${rowGroups(table).map(
  (rows) => html`<tbody>${rows.map((row) => rowMarkup(row, table))}</tbody>
`,
)}</table></div>`;
}

function columnHead(column: ClearedTable["columns"][number]): Markup {
  // A header without words is announced as one all the same: an empty corner is a plain cell.
  if (column.label.trim() === "") return html`<td class="${column.align}"></td>`;
  return html`<th scope="col" class="${column.align}" dir="auto">${column.label}</th>`;
}

function stampOf(state: PageState): Markup {
  return state.stamp === undefined ? html`` : html` <span class="stamp-small">${state.stamp}</span>`;
}

/** A heading begins a new body, so that its scope is the rows beneath it. */
function rowGroups(table: ClearedTable): Row[][] {
  const groups: Row[][] = [];
  for (const row of table.rows) {
    if (row.heading || groups.length === 0) groups.push([]);
    groups.at(-1)?.push(row);
  }
  return groups;
}

/** From so many columns on they stand closer. */
const MANY_COLUMNS = 7;
/** So many rows are kept on one sheet of paper. */
const MOST_TOGETHER = 16;
/** From so many signs on, words get a broader column. */
const LONG_FROM = 48;

function rowMarkup(row: Row, table: ClearedTable): Markup {
  if (row.heading) {
    return html`<tr class="heading"><th scope="rowgroup" colspan="${table.columns.length}" dir="auto">${row.label}</th></tr>`;
  }
  if (row.cells.length !== table.columns.length - 1) {
    throw new ArgumentError(
      `renderReport: table "${table.id}" has a row of ${row.cells.length} cells; its columns ask for ${table.columns.length - 1}`,
    );
  }
  const cells = row.cells.map((cell, at) => {
    const align = table.columns[at + 1]?.align ?? "start";
    const isLong = align === "start" && cell.text.length > LONG_FROM;
    return html`<td class="${align}${when(isLong, html` long`)}${when(cell.hidden, html` withheld`)}" dir="auto">${wholeDates(cell.text)}</td>`;
  });
  const indent = Math.min(3, Math.max(0, row.indent));
  return html`<tr><th scope="row" class="${table.columns[0]?.align ?? "start"} indent-${indent}" dir="auto">${wholeDates(row.label)}</th>${cells}</tr>`;
}
