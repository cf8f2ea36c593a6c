/** "1 year", "10 years"; the number as it is to be printed. */
export function numbered(count: number | string, one: string, many = `${one}s`): string {
  return `${count} ${String(count) === "1" ? one : many}`;
}

/** First letter in capitals. */
export function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
