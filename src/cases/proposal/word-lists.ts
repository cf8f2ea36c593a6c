import type { RecordedState } from "../recorded-state.ts";

/** Words for the four states of a step in several languages. What is in no list is never guessed. */
const STATE_WORDS: Readonly<Record<RecordedState, readonly string[]>> = {
  done: ["yes", "y", "true", "done", "ja", "j", "oui", "o", "vrai", "si", "wahr"],
  notDone: ["no", "n", "false", "not done", "nein", "non", "faux", "falsch"],
  notApplicable: ["not applicable", "n.a.", "entfällt", "nicht zutreffend", "sans objet"],
  notRecorded: ["not recorded", "unknown", "unk", "unbekannt", "inconnu", "keine angabe", "non renseigné"],
};

/** 1 and 0 mean yes and no where they stand alone: beside other digits they are grades. */
const DIGIT_STATES: Readonly<Record<string, RecordedState>> = { "1": "done", "0": "notDone" };

export function stateOfWord(word: string, words: readonly string[]): RecordedState | undefined {
  const folded = word.trim().toLowerCase();
  const digits = words.filter((each) => /^\d+$/.test(each.trim()));
  if (digits.every((each) => each.trim() in DIGIT_STATES) && folded in DIGIT_STATES)
    return DIGIT_STATES[folded];
  return (Object.keys(STATE_WORDS) as RecordedState[]).find((state) => STATE_WORDS[state].includes(folded));
}

/** Whether a word says that a box was ticked or not. */
export function isTick(word: string, words: readonly string[]): boolean {
  const state = stateOfWord(word, words);
  return state === "done" || state === "notDone" || word.trim().toLowerCase() === "x";
}

/** Words that say of a step that it did not apply, was not written down or was not done; which of these, no file says. */
const UNSURE_IN_STEPS: Readonly<Record<string, readonly RecordedState[]>> = {
  na: ["notApplicable", "notRecorded"],
  "n/a": ["notApplicable", "notRecorded"],
  nd: ["notDone", "notRecorded"],
  "-": ["notDone", "notApplicable", "notRecorded"],
};

/** What a word may mean in the column of a step where it may mean several things; undefined for all other words. */
export function unsureStates(word: string): readonly RecordedState[] | undefined {
  const folded = word.trim().toLowerCase();
  return Object.hasOwn(UNSURE_IN_STEPS, folded) ? UNSURE_IN_STEPS[folded] : undefined;
}

const SIDE_WORDS = [
  "left",
  "right",
  "l",
  "r",
  "li",
  "re",
  "lks",
  "rts",
  "links",
  "rechts",
  "gauche",
  "droite",
  "droit",
  "g",
  "d",
];
const SEX_WORDS = [
  "female",
  "male",
  "f",
  "m",
  "w",
  "weiblich",
  "männlich",
  "femme",
  "homme",
  "h",
  "woman",
  "man",
];

export function isSideWord(word: string): boolean {
  return SIDE_WORDS.includes(word.trim().toLowerCase());
}

export function isSexWord(word: string): boolean {
  return SEX_WORDS.includes(word.trim().toLowerCase());
}
