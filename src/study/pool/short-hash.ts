const DIGITS_SHOWN = 12;

/** As much of a hash as tells files apart on a page; the whole of it stands in results.json. */
export function shortHash(hash = ""): string {
  return `${hash.slice(0, DIGITS_SHOWN)}…`;
}
