import type { Block, Prose, Run } from "./block.ts";
import { html, type Markup, verbatim, wholeDates } from "./markup.ts";
import type { PageState } from "./page-state.ts";
import { renderExhibit, renderPicture } from "./render-exhibit.ts";

const DEEPEST_HEADING = 6;

/** One block as HTML. `level` is the level of the next heading inside. */
export function renderBlock(block: Block, level: number, state: PageState): Markup {
  switch (block.kind) {
    case "section":
      return renderSection(block, level, state, state.uniqueId(block.id));
    case "prose":
      return html`<p class="prose" dir="auto">${proseMarkup(block.text)}</p>
`;
    case "list":
      return html`<ul>${block.items.map((item) => html`<li dir="auto">${proseMarkup(item)}</li>`)}</ul>
`;
    case "answer":
      return html`<p class="answer" dir="auto">${proseMarkup(block.text)}</p>
`;
    case "caution":
      return html`<p class="caution" dir="auto"><span class="lead">Caution.</span> ${proseMarkup(block.text)}</p>
`;
    case "exhibit":
      return renderExhibit(block.exhibit, block.figure, state, block.foldTable);
    case "picture":
      return renderPicture(block, state);
    case "folded":
      return foldedMarkup(block.title, block.text);
    case "facts":
      return html`<dl class="facts">${block.items.map(
        ({ term, text }) =>
          html`<div><dt dir="auto">${term}</dt><dd dir="auto">${wholeDates(text)}</dd></div>`,
      )}</dl>
`;
    case "choices":
      return choicesMarkup(block, state);
  }
}

/** A section under an id that the contents list already knows. */
export function renderSection(
  section: Block & { readonly kind: "section" },
  level: number,
  state: PageState,
  id: string,
): Markup {
  const depth = Math.min(level, DEEPEST_HEADING);
  const headingId = state.uniqueId(`${id}-heading`);
  return html`<section id="${id}" aria-labelledby="${headingId}">
<h${depth} id="${headingId}" dir="auto">${section.title}</h${depth}>
${section.blocks.map((block) => renderBlock(block, level + 1, state))}</section>
`;
}

function proseMarkup(prose: Prose): Markup[] {
  const runs: readonly Run[] = typeof prose === "string" ? [prose] : prose;
  return runs.map((run) => {
    if (typeof run === "string") return html`${wholeDates(run)}`;
    if ("section" in run) return html`<a href="#${run.section}">${run.words}</a>`;
    return html`<strong>${wholeDates(run.strong)}</strong>`;
  });
}

function foldedMarkup(title: string, text: string): Markup {
  return html`<details class="folded"><summary>${title}</summary>
<pre tabindex="0" aria-label="${title}"><code>${verbatim(text)}</code></pre>
</details>
`;
}

/** Boxes for a pen: nothing on the page can be ticked on the screen, so nothing pretends to be a control. */
function choicesMarkup(
  { title, items, lines = [] }: Extract<Block, { kind: "choices" }>,
  state: PageState,
): Markup {
  const id = state.uniqueId("choices");
  return html`<div class="choices" role="group" aria-labelledby="${id}">
<p class="choices-title" id="${id}" dir="auto">${title}</p>
<ul>${items.map((item) => html`<li dir="auto"><span class="box" aria-hidden="true"></span><span>${item}</span></li>`)}</ul>
${lines.map(
  (line) => html`<p class="by-hand" dir="auto">${line}</p>
`,
)}</div>
`;
}
