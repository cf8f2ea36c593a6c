import type {
  Cleared,
  ClearedCurves,
  ClearedExhibit,
  ClearedFlow,
  ClearedLines,
  ClearedTable,
} from "../disclosure/cleared.ts";
import type { Block, Figure } from "./block.ts";
import { curveReading } from "./curve-reading.ts";
import { yearTable } from "./curve-table.ts";
import { flowTable } from "./flow-table.ts";
import { lineTwin } from "./line-table.ts";
import { asMarkup, html, type Markup } from "./markup.ts";
import type { Drawing, PageState } from "./page-state.ts";
import { renderTable } from "./render-table.ts";

type FoldTable = (Block & { readonly kind: "exhibit" })["foldTable"];
type DrawnExhibit = ClearedCurves | ClearedFlow | ClearedLines;

/** A table as a table; curves, flows and lines as a figure with the same numbers folded beneath it. */
export function renderExhibit(
  exhibit: Cleared<ClearedExhibit>,
  figure: Figure | undefined,
  state: PageState,
  foldTable?: FoldTable,
): Markup {
  const drawn = figure === undefined ? undefined : state.firstDrawing(exhibit.id);
  if (drawn !== undefined) return tableOfDrawing(exhibit, drawn, state);
  if (exhibit.kind === "table" && foldTable !== undefined && figure !== undefined)
    return figureExhibit(exhibit, figure, exhibit, state, foldTable.tableNotes);
  if (exhibit.kind === "table") {
    if (figure?.marks !== undefined) return markedTable(exhibit, figure, state);
    const table = tableExhibit(exhibit, exhibit.title, state);
    return figure === undefined ? table : html`${pictureOfTable(exhibit, figure, state)}${table}`;
  }
  const twin = twinOf(exhibit);
  return figure === undefined
    ? tableExhibit(twin, exhibit.title, state)
    : figureExhibit(exhibit, figure, twin, state);
}

/** Drawn further up: the numbers stand here as a table, which says where the picture is. */
function tableOfDrawing(exhibit: Cleared<ClearedExhibit>, { name, id }: Drawing, state: PageState): Markup {
  const table = exhibit.kind === "table" ? exhibit : twinOf(exhibit);
  const where = html`<p class="drawn-above">Drawn above as <a href="#${id}">${name}</a>.</p>
`;
  // The file beside a curve holds every point of it, which is more than this table.
  const words = exhibit.kind === "table" ? "this table" : "its numbers";
  return tableExhibit(table, exhibit.title, state, { file: exhibit.id, words, where });
}

function twinOf(exhibit: Cleared<DrawnExhibit>): Cleared<ClearedTable> {
  if (exhibit.kind === "curves") return yearTable(exhibit);
  return exhibit.kind === "flow" ? flowTable(exhibit) : lineTwin(exhibit);
}

function tableExhibit(
  table: Cleared<ClearedTable>,
  title: string,
  state: PageState,
  { file = table.id, words = "this table", where = html`` } = {},
): Markup {
  const lead = `Table ${state.nextNumber("Table")}.`;
  const id = state.uniqueId(`exhibit-${table.id}`);
  return html`<div class="exhibit" id="${id}">
${renderTable(table, { lead, title }, state)}
${where}${notesMarkup(table.notes)}<p class="files">To keep: <a href="tables/${file}.csv" download>${words} (CSV)</a></p>
</div>
`;
}

/** A table with its picture inside: one exhibit, with both files. */
function markedTable(table: Cleared<ClearedTable>, figure: Figure, state: PageState): Markup {
  const lead = `Table ${state.nextNumber("Table")}.`;
  const id = state.uniqueId(`exhibit-${table.id}`);
  const { title } = table;
  const { finding, marks } = figure;
  return html`<div class="exhibit" id="${id}">
${renderTable(table, { lead, title, ...(finding === undefined ? {} : { finding }) }, state, marks)}
${notesMarkup(table.notes)}<p class="files">To keep: <a href="tables/${table.id}.csv" download>this table (CSV)</a>, <a href="figures/${figure.fileName}" download>its differences drawn (SVG)</a></p>
</div>
`;
}

/** A table's picture, before the table itself. */
function pictureOfTable(table: Cleared<ClearedTable>, figure: Figure, state: PageState): Markup {
  const name = `Figure ${state.nextNumber("Figure")}`;
  const id = state.uniqueId(`figure-of-${table.id}`);
  state.noteDrawing(table.id, { name, id });
  return html`<div class="exhibit" id="${id}">
<figure class="of-table">
<figcaption>${titleMarkup(name, table.title, figure)}</figcaption>
<div class="scroll picture" role="group" tabindex="0" aria-label="${name}, drawing">${asMarkup(withOwnIds(figure.svg, state))}</div>
</figure>
<p class="files">To keep: <a href="figures/${figure.fileName}" download>${name} (SVG)</a></p>
</div>
`;
}

/** A figure without a table of its own: it says where its numbers stand. */
export function renderPicture(
  { title, question, figure, numbers }: Block & { readonly kind: "picture" },
  state: PageState,
): Markup {
  const name = `Figure ${state.nextNumber("Figure")}`;
  return html`<div class="exhibit">
<figure>
<figcaption>${titleMarkup(name, title, figure)} <span class="question" dir="auto">${question}</span></figcaption>
<div class="scroll picture" role="group" tabindex="0" aria-label="${name}, drawing">${asMarkup(withOwnIds(figure.svg, state))}</div>
${notesMarkup([numbers])}</figure>
<p class="files">To keep: <a href="figures/${figure.fileName}" download>${name} (SVG)</a></p>
</div>
`;
}

function figureExhibit(
  exhibit: Cleared<ClearedExhibit>,
  figure: Figure,
  twin: Cleared<ClearedTable>,
  state: PageState,
  twinNotes: readonly string[] = [],
): Markup {
  const name = `Figure ${state.nextNumber("Figure")}`;
  const id = state.uniqueId(`exhibit-${exhibit.id}`);
  state.noteDrawing(exhibit.id, { name, id });
  return html`<div class="exhibit" id="${id}">
<figure class="of-${exhibit.kind}"${readingMarkup(exhibit, figure)}>
<figcaption>${titleMarkup(name, exhibit.title, figure)}${questionMarkup(exhibit)}</figcaption>
<div class="scroll picture" role="group" tabindex="0" aria-label="${name}, drawing">${asMarkup(withOwnIds(figure.svg, state))}</div>
${notesMarkup(exhibit.notes.filter((note) => !twinNotes.includes(note)))}</figure>
<p class="files">To keep: <a href="figures/${figure.fileName}" download>${name} (SVG)</a>, <a href="tables/${exhibit.id}.csv" download>its numbers (CSV)</a></p>
<details class="twin of-${exhibit.kind}"><summary>${name} as a table</summary>
${renderTable(twin, { lead: `${name} as a table.`, title: exhibit.title }, state)}
${notesMarkup(exhibit.notes.filter((note) => twinNotes.includes(note)))}</details>
</div>
`;
}

/** What the figure is of, and what it shows where that can be said in a sentence. */
function titleMarkup(name: string, title: string, { finding }: Figure): Markup {
  if (finding === undefined)
    return html`<span class="lead">${name}.</span> <strong dir="auto">${title}</strong>`;
  return html`<span class="lead">${name}. <span dir="auto">${title}.</span></span> <strong class="finding" dir="auto">${finding}</strong>`;
}

function readingMarkup(exhibit: Cleared<ClearedExhibit>, { plot }: Figure): Markup {
  if (exhibit.kind !== "curves" || plot === undefined) return html``;
  return html` data-reading="${curveReading(exhibit, plot)}"`;
}

function questionMarkup(exhibit: ClearedExhibit): Markup {
  if (exhibit.kind === "flow" || exhibit.kind === "table") return html``;
  if (exhibit.kind === "lines") return html` <span class="question" dir="auto">${exhibit.question}</span>`;
  const risk = exhibit.risk === "crude" ? "Crude risk." : "Net risk.";
  return html` <span class="question" dir="auto">${risk} ${exhibit.question}</span>`;
}

function notesMarkup(notes: readonly string[]): Markup {
  if (notes.length === 0) return html``;
  return html`<div class="notes">${notes.map((note) => html`<p dir="auto">${note}</p>`)}</div>
`;
}

/** A figure shown twice on one page would bring its ids twice: the second showing gets ids of its own. */
function withOwnIds(svg: string, state: PageState): string {
  const ids = [...svg.matchAll(/\sid="([A-Za-z0-9_-]+)"/g)].map((match) => match[1] ?? "");
  const renamed = new Map(ids.map((id) => [id, state.uniqueId(id)]));
  if ([...renamed].every(([id, own]) => id === own)) return svg;
  // Inside tags only, so that no word of a label is touched.
  return svg.replace(/<[^>]*>/g, (tag) =>
    tag.replace(
      /(\sid="|url\(#|\shref="#|\saria-labelledby=")([^")]*)/g,
      (_whole, lead: string, names: string) => {
        const own = names.split(" ").map((name) => renamed.get(name) ?? name);
        return lead + own.join(" ");
      },
    ),
  );
}
