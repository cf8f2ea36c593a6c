/** A negative number is a number to a spreadsheet too, with a decimal point or comma. */
const PLAIN_NUMBER = /^-?\d+([.,]\d+)?$/;
const RUNS = /^[=+\-@\t\r]/;
const GUARD = "'";

/** Whether a spreadsheet would run the text as a formula, or lose its first sign. */
export function isRunBySpreadsheets(text: string): boolean {
  return RUNS.test(text) && !PLAIN_NUMBER.test(text);
}

/**
 * The text with an apostrophe before it where a spreadsheet would run it, so that `unguardedText` gives it back.
 *
 * A text that begins with apostrophes before such a sign gets one more: no two texts become the same.
 *
 * @example
 * guardedText("=1+1"); // "'=1+1"
 * guardedText("-0.5"); // "-0.5"
 */
export function guardedText(text: string): string {
  return isRunBySpreadsheets(text.replace(/^'+/, "")) ? GUARD + text : text;
}

/** What `guardedText` was given. */
export function unguardedText(text: string): string {
  return text.startsWith(GUARD) && isRunBySpreadsheets(text.replace(/^'+/, "")) ? text.slice(1) : text;
}
