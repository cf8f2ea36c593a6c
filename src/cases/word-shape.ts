/** What a text is made of, counted in one pass. */
export interface WordShape {
  readonly length: number;
  readonly digits: number;
  readonly letters: number;
  /** Spaces, hyphens and line breaks: where words end. */
  readonly gaps: number;
  readonly hasAt: boolean;
}

export function wordShape(text: string): WordShape {
  let [digits, letters, gaps] = [0, 0, 0];
  let hasAt = false;
  for (let at = 0; at < text.length; at += 1) {
    const mark = text.charCodeAt(at);
    if (mark >= 48 && mark <= 57) digits += 1;
    else if ((mark | 32) >= 97 && (mark | 32) <= 122) letters += 1;
    else if (mark > 191) letters += 1;
    else if (mark === 32 || mark === 45 || mark === 10) gaps += 1;
    else if (mark === 64) hasAt = true;
  }
  return { length: text.length, digits, letters, gaps, hasAt };
}
