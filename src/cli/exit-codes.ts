/** What a finished command tells the shell. */
export const EXIT = {
  /** Done; two reports are the same; the export has no errors. */
  ok: 0,
  /** Done, and the answer is no: the export has errors, the reports differ. */
  no: 1,
  /** Not done: wrong use, or a file that cannot be read. */
  failed: 2,
  /** Stopped by the person at the keyboard. */
  interrupted: 130,
} as const;
