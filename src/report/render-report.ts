import type { ReportPage } from "./block.ts";
import { htmlPage } from "./html-page.ts";
import { html, type Markup, wholeDates } from "./markup.ts";
import { type PageState, pageState } from "./page-state.ts";
import { renderBlock, renderSection } from "./render-block.ts";

const BRIEF_TITLE = "In brief";

/**
 * A study's report as one HTML file that needs nothing else: it can be mailed, archived and printed.
 *
 * The brief comes first and prints on pages of its own. Figures and tables are numbered in order; every figure has
 * the same numbers as a table beneath it. The same page gives the same bytes.
 *
 * Throws ArgumentError where a table's row does not fit its columns.
 */
export function renderReport(page: ReportPage): string {
  const state = pageState(page.stamp);
  // Ids the contents list links to are given out first, so no exhibit can take them.
  const [mainId, briefId] = [state.uniqueId("report"), state.uniqueId("brief")];
  const sections = page.sections.map((section) => ({ section, id: state.uniqueId(section.id) }));
  const contents = [
    ...(page.brief.length === 0 ? [] : [{ id: briefId, title: BRIEF_TITLE }]),
    ...sections.map(({ section, id }) => ({ id, title: section.title })),
  ];
  const body = html`<a class="skip" href="#${mainId}">Skip to the report</a>
<header class="page-head">
<h1 dir="auto">${page.title}</h1>
<p class="subtitle" dir="auto">${wholeDates(page.subtitle)}</p>
</header>
<div class="columns">
${contentsMarkup(contents)}<main id="${mainId}" tabindex="-1">
${briefMarkup(page, briefId, state)}${sections.map(({ section, id }) => renderSection(section, 2, state, id))}</main>
</div>
<footer class="page-foot">${page.footer.map((line) => html`<p dir="auto">${wholeDates(line)}</p>`)}</footer>
`;
  return htmlPage({ title: page.title, stamp: page.stamp, body });
}

function briefMarkup(page: ReportPage, id: string, state: PageState): Markup {
  if (page.brief.length === 0) return html``;
  const headingId = state.uniqueId(`${id}-heading`);
  return html`<section class="brief" id="${id}" aria-labelledby="${headingId}">
<h2 id="${headingId}">${BRIEF_TITLE}</h2>
${page.brief.map((block) => renderBlock(block, 3, state))}</section>
`;
}

function contentsMarkup(contents: readonly { readonly id: string; readonly title: string }[]): Markup {
  return html`<nav class="contents" aria-labelledby="contents-heading">
<h2 id="contents-heading">Contents</h2>
<ol>${contents.map(({ id, title }) => html`<li dir="auto"><a href="#${id}">${title}</a></li>`)}</ol>
</nav>
`;
}
