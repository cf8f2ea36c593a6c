import { htmlPage } from "./html-page.ts";
import { html, type Markup } from "./markup.ts";

export interface IndexEntry {
  /** Folder of the report, beside the index. */
  readonly id: string;
  readonly title: string;
  readonly subtitle: string;
  readonly stamp?: string | undefined;
}

/** The page that lists all reports of a folder, in the order given. */
export function renderIndex(reports: readonly IndexEntry[]): string {
  const body = html`<main class="page-head">
<h1>Reports</h1>
${reports.length === 0 ? html`<p class="subtitle">No report has been written yet.</p>` : listMarkup(reports)}</main>
`;
  return htmlPage({ title: "Reports", stamp: undefined, body });
}

function listMarkup(reports: readonly IndexEntry[]): Markup {
  return html`<ul class="index-list">${reports.map(
    ({ id, title, subtitle, stamp }) => html`<li>
<h2><a href="${encodeURIComponent(id)}/index.html" dir="auto">${title}</a></h2>
<p dir="auto">${subtitle}${stamp === undefined ? html`` : html` <span class="stamp-small">${stamp}</span>`}</p>
</li>`,
  )}</ul>
`;
}
