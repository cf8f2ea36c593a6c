import { contentHash } from "../base/content-hash.ts";
import { asMarkup, html, type Markup, when } from "./markup.ts";
import { PAGE_SCRIPT } from "./page-script.ts";
import { PRINT_STYLE } from "./print-style.ts";
import { SCREEN_STYLE } from "./screen-style.ts";

export interface HtmlPage {
  readonly title: string;
  readonly stamp: string | undefined;
  readonly body: Markup;
}

const STYLE = `${SCREEN_STYLE}${PRINT_STYLE}`;

/**
 * One self-contained page: nothing fetched, and a content policy that forbids it.
 *
 * The policy names the style sheet and the one script by their hashes, so that nothing can be slipped in. The script is
 * there only where there are curves to read.
 */
export function htmlPage(page: HtmlPage): string {
  const hasCurves = page.body.markup.includes(" data-reading=");
  const script = hasCurves ? ` script-src '${hashOf(PAGE_SCRIPT)}';` : "";
  const policy = `default-src 'none'; style-src '${hashOf(STYLE)}';${script} img-src data:; base-uri 'none'; form-action 'none'`;
  const title = page.stamp === undefined ? page.title : `${page.title} (${page.stamp})`;
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light">
<meta name="generator" content="Mantle">
<meta name="referrer" content="no-referrer">
${dataNote(page.stamp)}<title>${title}</title>
<style>${asMarkup(STYLE)}</style>
</head>
<body>
${stampMarkup(page.stamp)}${page.body}${when(
  hasCurves,
  html`<script>${asMarkup(PAGE_SCRIPT)}</script>
`,
)}</body>
</html>
`.markup;
}

function hashOf(text: string): string {
  return `sha256-${Buffer.from(contentHash(text), "hex").toString("base64")}`;
}

function dataNote(stamp: string | undefined): Markup {
  return stamp === undefined
    ? html``
    : html`<meta name="description" content="${stamp}">
`;
}

/** On the screen a bar that stays in view; on paper a strip beside the text of every page. */
function stampMarkup(stamp: string | undefined): Markup {
  if (stamp === undefined) return html``;
  return html`<aside class="stamp" aria-label="About the data"><p>${stamp}</p></aside>
<p class="stamp-strip" aria-hidden="true">${stamp}</p>
`;
}
