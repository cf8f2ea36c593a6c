import type { NotebookToken } from "./notebook-tokens.ts";

/** Functions that are handed a plan. */
const DECLARES: readonly string[] = ["defineStudy", "defineFeasibility", "defineAdherence"];
const OPENS: Readonly<Record<string, Frame["kind"]>> = { "{": "record", "[": "list", "(": "other" };
const CLOSES: readonly string[] = ["}", "]", ")"];

/** A bracket that is open. */
interface Frame {
  readonly kind: "record" | "list" | "other";
  /** Where in the plan; undefined inside anything that is not written out. */
  readonly place: string | undefined;
  /** Of a record: the key before the value. */
  key: string | undefined;
  /** Of a list: how many values came before; undefined where another list is spread into it. */
  index: number | undefined;
  /** What comes next is the beginning of a key, or of a value. */
  next: "key" | "value" | "rest";
}

/**
 * The line of each place of a plan that stands written out in a notebook: "covariates[2]" → 18.
 *
 * What is spread, computed or called is passed over. Empty where a notebook hands over a plan by name, or declares two.
 */
export function planLines(tokens: readonly NotebookToken[]): ReadonlyMap<string, number> {
  const lines = new Map<string, number>();
  const start = startOfPlan(tokens);
  if (start === undefined) return lines;
  const open: Frame[] = [frame("record", "")];
  for (const token of tokens.slice(start + 1)) {
    const top = open.at(-1);
    if (top === undefined) break;
    const { text } = token;
    if (token.kind === "mark" && CLOSES.includes(text)) open.pop();
    else if (token.kind === "mark" && text === ",") nextItem(top);
    else if (top.next === "key") readKey(top, token);
    else if (top.next === "value") {
      if (top.kind === "record" && text === ":") continue;
      const place = placeOfValue(top, token);
      if (place !== undefined) lines.set(place, token.line);
      top.next = "rest";
      const kind = token.kind === "mark" ? OPENS[text] : undefined;
      if (kind !== undefined) open.push(frame(kind, kind === "other" ? undefined : place));
    } else if (token.kind === "mark" && text in OPENS) open.push(frame("other", undefined));
  }
  return lines;
}

/** Place of the bracket that opens the plan. */
function startOfPlan(tokens: readonly NotebookToken[]): number | undefined {
  const calls = tokens.flatMap(({ kind, text }, at) => {
    const next = tokens[at + 1]?.text ?? "";
    if (kind !== "word" || !DECLARES.includes(text) || !["(", "<"].includes(next)) return [];
    const bracket = tokens.findIndex((token, later) => later > at && token.text === "(");
    return tokens[bracket + 1]?.text === "{" ? [bracket + 1] : [-1];
  });
  const [start] = calls;
  return calls.length === 1 && start !== undefined && start >= 0 ? start : undefined;
}

function frame(kind: Frame["kind"], place: string | undefined): Frame {
  const next = { record: "key", list: "value", other: "rest" } as const;
  return { kind, place, key: undefined, index: 0, next: next[kind] };
}

function nextItem(top: Frame): void {
  if (top.kind === "other") return;
  top.next = top.kind === "record" ? "key" : "value";
  top.key = undefined;
  if (top.index !== undefined) top.index += 1;
}

function readKey(top: Frame, { kind, text }: NotebookToken): void {
  top.key = kind === "mark" ? undefined : text;
  top.next = kind === "mark" ? "rest" : "value";
}

function placeOfValue(top: Frame, { kind, text }: NotebookToken): string | undefined {
  if (top.kind === "list" && kind === "mark" && text === "...") top.index = undefined;
  if (top.place === undefined) return undefined;
  if (top.kind === "list") return top.index === undefined ? undefined : `${top.place}[${top.index}]`;
  if (top.key === undefined) return undefined;
  return top.place === "" ? top.key : `${top.place}.${top.key}`;
}
