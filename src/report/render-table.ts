import { ArgumentError } from "../base/errors.ts";
import type { Cleared, ClearedTable } from "../disclosure/cleared.ts";
import type { TableMarks } from "./block.ts";
import { asMarkup, html, type Markup, when, wholeDates } from "./markup.ts";
import type { PageState } from "./page-state.ts";

type Row = ClearedTable["rows"][number];

export interface TableCaption {
  /** "Table 3", or what the table stands beside. */
  readonly lead: string;
  readonly title: string;
  /** What it shows, in a sentence. */
  readonly finding?: string;
}

/** A table with its caption; a wide one scrolls in a frame of its own, which the keyboard can reach. */
export function renderTable(
  table: Cleared<ClearedTable>,
  caption: TableCaption,
  state: PageState,
  marks?: TableMarks,
): Markup {
  const looks = [
    ...(table.columns.length >= MANY_COLUMNS ? ["many"] : []),
    ...(table.rows.length <= MOST_TOGETHER ? ["short"] : []),
    ...(marks === undefined ? [] : ["with-marks"]),
  ].join(" ");
  const captionId = state.uniqueId(`table-${table.id}-caption`);
  return html`<div class="scroll" role="group" tabindex="0" aria-labelledby="${captionId}"><table${when(looks !== "", html` class="${looks}"`)}>
<caption id="${captionId}"><div class="in-view">${captionWords(caption)}${stampOf(state)}</div></caption>
<thead><tr>${table.columns.map((column, at) => columnHead(column, at === marks?.column ? marks.scale : undefined))}</tr></thead>
${rowGroups(table).map(
  (rows) => html`<tbody>${rows.map((row) => rowMarkup(row, table, marks))}</tbody>
`,
)}</table></div>`;
}

function captionWords({ lead, title, finding }: TableCaption): Markup {
  if (finding === undefined) return html`<span class="lead">${lead}</span> ${title}`;
  return html`<span class="lead">${lead} <span dir="auto">${title}.</span></span> <span class="finding" dir="auto">${finding}</span>`;
}

function columnHead(column: ClearedTable["columns"][number], scale: string | undefined): Markup {
  // A header without words is announced as one all the same: an empty corner is a plain cell.
  if (column.label.trim() === "") return html`<td class="${column.align}"></td>`;
  if (scale !== undefined)
    return html`<th scope="col" class="${column.align} marked" dir="auto">${column.label}<span class="scale">${asMarkup(scale)}</span></th>`;
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
/** From so many signs on, words get a broader column, and numbers may go on to a second line. */
const [LONG_FROM, LONG_END_FROM] = [48, 30];

function rowMarkup(row: Row, table: ClearedTable, marks: TableMarks | undefined): Markup {
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
    const isLong = cell.text.length > (align === "start" ? LONG_FROM : LONG_END_FROM);
    if (marks !== undefined && at + 1 === marks.column) return markedCell(cell, row, table, marks);
    return html`<td class="${align}${when(isLong, html` long`)}${when(cell.hidden, html` withheld`)}" dir="auto">${wholeDates(cell.text)}</td>`;
  });
  const indent = Math.min(3, Math.max(0, row.indent));
  const isMarked = marks?.rows[table.rows.indexOf(row)] !== undefined;
  return html`<tr${when(isMarked, html` class="marked-row"`)}><th scope="row" class="${table.columns[0]?.align ?? "start"} indent-${indent}" dir="auto">${wholeDates(row.label)}</th>${cells}</tr>`;
}

/** The number, then its mark; the line at 0 runs through rows without one. */
function markedCell(cell: Row["cells"][number], row: Row, table: ClearedTable, marks: TableMarks): Markup {
  const mark = marks.rows[table.rows.indexOf(row)];
  return html`<td class="end marked${when(cell.hidden, html` withheld`)}" dir="auto">${cell.text}${mark === undefined ? html`` : asMarkup(mark)}</td>`;
}
