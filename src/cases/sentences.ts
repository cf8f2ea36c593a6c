type Details = Readonly<Record<string, string | number>>;

/** One sentence about a finding, from its safe details and the name of its field. */
export type Sentence = (details: Details, field: string) => string;

/** By finding code. */
export type Sentences = Readonly<Record<string, Sentence>>;

export const CORRECT_OR_LEAVE_OUT = "correct the export or leave the row out of it";
