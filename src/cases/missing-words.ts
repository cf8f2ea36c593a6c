/** Declared missing values of a field: the k-th counts from 1. `blank` is the reason of an empty cell. */
export interface MissingWords {
  readonly words: readonly string[];
  readonly reasons: readonly string[];
  readonly blank: number;
}

/** A blank is always missing, with a reason of its own unless the dictionary names one. */
export function missingWords(
  declared: readonly { readonly value: string; readonly label: string }[],
): MissingWords {
  const words = declared.map(({ value }) => value);
  const reasons = declared.map(({ label }) => label);
  const blank = words.indexOf("");
  if (blank >= 0) return { words, reasons, blank: blank + 1 };
  return { words, reasons: [...reasons, "blank"], blank: words.length + 1 };
}
