import { PAGE_SCRIPT } from "../../src/report/page-script.ts";

/** Words that have broken a page somewhere. Each must come out as text, in every place a word can stand. */
export const HOSTILE: readonly (readonly [string, string])[] = [
  ["markup", '<script>alert(1)</script><b>"bold"</b>'],
  ["quotes and an ampersand", `"double" 'single' & more`],
  ["an attribute that would begin", '" onload="alert(1)'],
  ["the end of a style sheet", "</style></title></svg><img src=x onerror=alert(1)>"],
  ["right-to-left text", "\u05de\u05dc\u05d8 \u05e2\u05e6\u05dd 12 \u0628\u062f\u0648\u0646"],
  ["emoji, some joined", "\u{1f9b5}\u{1f3fd} \u{1f469}\u200d\u2695\ufe0f"],
  ["control characters and half a pair", "a\u0000b\u0007c\ud800d"],
  ["a very long label", `tourniquet ${"released before the cement had set and ".repeat(8)}`],
  ["a word without a break", "W".repeat(300)],
  ["nothing", ""],
];

const TAG = /<\/?([a-zA-Z][\w-]*)((?:\s+[^\s=>"/]+(?:="[^"]*")?)*)\s*\/?>/g;

/**
 * What is wrong with a markup text that holds foreign words: tags that are not ours, attributes that run something,
 * a bracket outside a tag, a character no file may hold. Short, so that a failure can be read.
 */
export function faultsOf(page: string): string[] {
  const markup = page.replace(`<script>${PAGE_SCRIPT}</script>`, "");
  const tags = [...markup.matchAll(TAG)];
  const foreign = tags.filter(([, name = ""]) => /^(script|img|b|iframe|object|link)$/i.test(name));
  const running = tags.filter(([, , attributes = ""]) =>
    /\s(on\w+|srcdoc|style)=/i.test(attributes.replace(/"[^"]*"/g, '""')),
  );
  const rest = markup
    .replace(/^<!doctype html>/, "")
    .replace(/<style>[^<]*<\/style>/g, "")
    .replace(TAG, "");
  return [
    ...foreign.map(([tag]) => `foreign tag ${tag}`),
    ...running.map(([tag]) => `attribute that runs ${tag.slice(0, 80)}`),
    ...(rest.includes("<")
      ? [`bracket outside a tag: ${rest.slice(rest.indexOf("<"), rest.indexOf("<") + 40)}`]
      : []),
    ...(/(?![\t\n\r])[\p{Control}\p{Surrogate}]/u.test(markup) ? ["control character or half a pair"] : []),
  ];
}
