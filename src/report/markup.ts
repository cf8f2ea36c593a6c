/** HTML that is safe to print as it stands: everything in it was written here or escaped. */
export interface Markup {
  readonly markup: string;
}

type Content = string | number | Markup | readonly Markup[];

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** HTML from a template; every value that is not markup already is escaped. */
export function html(parts: TemplateStringsArray, ...values: readonly Content[]): Markup {
  const pieces = parts.map((part, at) => {
    const value = values[at];
    return value === undefined ? part : part + contentText(value);
  });
  return { markup: pieces.join("") };
}

/** An attribute where it applies, nothing where it does not. */
export function when(condition: boolean, markup: Markup): Markup {
  return condition ? markup : { markup: "" };
}

/**
 * Takes text as markup. For these alone: the svg of a figure, which `figures/` built from escaped parts,
 * and the style sheet and script of the page, which hold no data.
 */
export function asMarkup(text: string): Markup {
  return { markup: text };
}

/** Escaped as it stands: for source code and data, which a reader may copy. */
export function verbatim(text: string): Markup {
  return asMarkup(escapeMarkup(text));
}

/** The one escape: right in text and in quoted attributes. Control characters and lone surrogates are replaced. */
export function escapeMarkup(text: string): string {
  return text
    .replace(/(?![\t\n\r])[\p{Control}\p{Surrogate}\ufffe\uffff]/gu, "\ufffd")
    .replace(/[&<>"']/g, (character) => ENTITIES[character] ?? character);
}

/** A number stays on one line with its per cent sign, and that with the word "interval". */
function keptTogether(text: string): string {
  return text.replace(/(\d) %( interval)?/g, (_all, digit: string, word?: string) =>
    word === undefined ? `${digit}\u00a0%` : `${digit}\u00a0%\u00a0interval`,
  );
}

function contentText(value: Content): string {
  if (typeof value === "string") return escapeMarkup(keptTogether(value));
  if (typeof value === "number") return String(value);
  if ("markup" in value) return value.markup;
  return value.map(({ markup }) => markup).join("");
}

/** A date never ends one line and begins the next. */
export function wholeDates(text: string): Markup[] {
  return text
    .split(/(\b\d{4}-\d{2}-\d{2}\b)/)
    .map((part, at) => (at % 2 === 1 ? html`<span class="date">${part}</span>` : html`${part}`));
}
