import { type FieldRole, REASON_TICK } from "../roles.ts";
import { isMissingWord } from "./cell-shape.ts";
import { type ColumnProfile, LEAST_ROWS_SHOWN } from "./column-profile.ts";
import type { GuessedColumn, RoleGuess } from "./role-guess.ts";
import { OPEN, sharedTexts, type TypeGuess } from "./type-guess.ts";
import { isSexWord, isSideWord, isTick, stateOfWord, unsureStates } from "./word-lists.ts";

/** One field of a proposed dictionary, why, and what is left open. */
export interface FieldProposal {
  readonly field: Readonly<Record<string, unknown>>;
  readonly evidence: readonly string[];
  readonly open: readonly string[];
}

/** A list of categories is short; longer ones are names or free text, and are never shown. */
const MOST_CATEGORIES = 12;

export function fieldProposal({ profile, type }: GuessedColumn, guess: RoleGuess): FieldProposal {
  const { role } = guess;
  const isId = role === "caseId" || role === "patientId";
  const isOfStep = isStepRole(role);
  const serial = role?.endsWith("Date") === true && type.type !== "date";
  const listed = isId || role === undefined ? undefined : categoriesOf(profile, role);
  const isList = listed !== undefined || (role === "asaGrade" && type.type !== "string");
  const missing = missingValuesOf(profile, type, isOfStep);
  const field = {
    name: profile.name,
    ...(role !== undefined && { role }),
    type: serial ? "date" : isId || isList ? "string" : type.type,
    ...(serial && { serialDates: OPEN }),
    ...(type.format !== undefined && type.format !== "default" && { format: type.format }),
    ...(type.decimalChar !== undefined && !isId && { decimalChar: type.decimalChar }),
    ...(role === "followUpTime" && { unit: OPEN }),
    ...(listed !== undefined && listed.categories.length > 0 && { categories: listed.categories }),
    ...(missing.length > 0 && { missingValues: missing }),
  };
  return {
    field,
    evidence: [
      ...guess.evidence,
      ...type.evidence,
      ...(missing.length === 0 ? [] : [`taken for missing: ${missing.map(missingWord).join(", ")}`]),
    ],
    open: [
      ...guess.open,
      ...type.open,
      ...(serial
        ? ["holds a spreadsheet's serial numbers: state the year they count from, 1900 or 1904"]
        : []),
      ...(role === "followUpTime" ? ["state the unit: d, mo or a (days, months, years)"] : []),
      ...(listed?.open ?? []),
      ...(role === undefined ? questionsOfTicks(profile) : []),
    ],
  };
}

function isStepRole(role: FieldRole | undefined): boolean {
  return role?.startsWith("technique:") === true && !role.endsWith(":recordedOn");
}

function missingWord(value: string | { readonly value: string }): string {
  const word = typeof value === "string" ? value : value.value;
  return word === "" ? "blank" : `"${word}"`;
}

/** A column that says yes and no may be a step that nobody named: then what is taken for missing may mean more. */
function questionsOfTicks({ words = new Map<string, number>(), rows }: ColumnProfile): string[] {
  const all = [...words.keys()];
  const others = all.filter((word) => word.trim() !== "" && !isMissingWord(word));
  if (others.length === 0 || !others.every((word) => isTick(word, all))) return [];
  return [...merged(words)].flatMap(([word, count]) => {
    const states = unsureStates(word);
    if (states === undefined) return [];
    return [
      `if this is a technique step, give it its role and "${word}" (${count} of ${rows} rows) a state: ${states.join(" or ")}`,
    ];
  });
}

interface ListedWords {
  readonly categories: readonly Readonly<Record<string, unknown>>[];
  readonly open: readonly string[];
}

/** Categories where the role needs them: what each word of a step or a status means, or which words a side has. */
function categoriesOf(profile: ColumnProfile, role: FieldRole): ListedWords | undefined {
  const { words, present } = profile;
  const isStep = isStepRole(role);
  const isUnsure = (word: string) => isStep && unsureStates(word) !== undefined;
  const isOfTicks = role.startsWith(REASON_TICK);
  const needsWords = isStep || isOfTicks || role === "status" || role === "side" || role === "sex";
  if (!needsWords || words === undefined || present === 0) return undefined;
  const counted = [...merged(words)]
    .filter(([word]) => isUnsure(word) || (!isMissingWord(word) && word.trim() !== ""))
    .sort(byWord);
  const isKnown = (word: string) =>
    isUnsure(word) ||
    isSideWord(word) ||
    isSexWord(word) ||
    isTick(word, [...words.keys()]) ||
    stateOfWord(word, [...words.keys()]) !== undefined;
  const isShort = counted.length <= MOST_CATEGORIES;
  const shown = counted.filter(([word, rows]) => isKnown(word) || (isShort && rows >= LEAST_ROWS_SHOWN));
  const hidden = counted.length - shown.length;
  const categories = shown.map(([value]) => ({
    value,
    ...(isStep && { state: stateOfWord(value, [...words.keys()]) ?? OPEN }),
    ...(isOfTicks && stateOfWord(value, [...words.keys()]) === "notDone" && { absent: true }),
    ...(role === "status" && { outcome: OPEN }),
  }));
  return {
    categories,
    open: [
      ...categories.flatMap(({ value, state }) => (state === OPEN ? [stateQuestion(value, profile)] : [])),
      ...(role === "status"
        ? ['say which outcome each word means; "censored" where nothing ended follow-up']
        : []),
      ...(hidden > 0
        ? [
            hidden === 1
              ? "1 more word is too rare to be shown here: list it as a category or missing value"
              : `${hidden} more words are too rare to be shown here: list them as categories or missing values`,
          ]
        : []),
    ],
  };
}

/** What a person is asked of a word of a step, with what the column shows where the word may mean several things. */
function stateQuestion(
  word: string,
  { words = new Map<string, number>(), shapes, rows }: ColumnProfile,
): string {
  const states = unsureStates(word);
  if (states === undefined) {
    return `say which state "${word}" means: done, notDone, notApplicable or notRecorded`;
  }
  const stated = [...words.keys()].map((each) => stateOfWord(each, [...words.keys()]));
  const count = merged(words).get(word) ?? 0;
  const beside = [
    shapes.blank > 0 && `${shapes.blank} cells are blank`,
    stated.includes("notRecorded") && "another word means notRecorded",
    stated.includes("notApplicable") && "another word means notApplicable",
  ].filter((each) => each !== false);
  const seen = [`it stands in ${count} of ${rows} rows`, ...beside].join(", ");
  return `say which state "${word}" means: ${states.join(" or ")} (${seen})`;
}

/** Words that differ in capitals and spaces alone are one category, in the spelling that most rows have. */
function merged(words: ReadonlyMap<string, number>): ReadonlyMap<string, number> {
  const spellings = new Map<string, [string, number][]>();
  for (const [word, rows] of words) {
    const key = word.trim().toLowerCase();
    spellings.set(key, [...(spellings.get(key) ?? []), [word, rows]]);
  }
  return new Map(
    [...spellings.values()].map((list) => {
      const [usual = ["", 0]] = list.toSorted(
        ([one, rows], [other, more]) => more - rows || (one < other ? -1 : 1),
      );
      return [usual[0].trim(), list.reduce((sum, [, rows]) => sum + rows, 0)];
    }),
  );
}

function byWord([one]: readonly [string, number], [other]: readonly [string, number]): number {
  return one < other ? -1 : 1;
}

/** Words for missing, and texts that many rows share where all others are numbers or dates. */
function missingValuesOf(
  profile: ColumnProfile,
  { type }: TypeGuess,
  isOfStep: boolean,
): (string | { value: string; label: string })[] {
  const { words = new Map<string, number>(), shapes } = profile;
  const shared = type === "string" ? [] : sharedTexts(profile).map(([word]) => word);
  // In a step it may mean what a blank never does; there it is a category whose state a person states.
  const isMissing = (word: string) => isMissingWord(word) && !(isOfStep && unsureStates(word) !== undefined);
  const listed = [...[...words.keys()].filter(isMissing), ...shared].map((word) => word.trim());
  const unique = [...new Set(listed)].sort().map((value) => ({ value, label: value }));
  return [...(unique.length > 0 && shapes.blank > 0 ? [""] : []), ...unique];
}
