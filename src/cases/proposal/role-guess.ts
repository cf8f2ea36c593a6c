import { REVISION_REASONS } from "../revision-reasons.ts";
import { CASE_ROLES, type FieldRole, REASON_TICK, TECHNIQUE_STEPS } from "../roles.ts";
import { isMissingWord } from "./cell-shape.ts";
import type { ColumnProfile } from "./column-profile.ts";
import { nameScore, nameWords } from "./name-score.ts";
import type { TypeGuess } from "./type-guess.ts";
import { isSexWord, isSideWord, isTick, stateOfWord, unsureStates } from "./word-lists.ts";

export interface GuessedColumn {
  readonly profile: ColumnProfile;
  readonly type: TypeGuess;
}

export interface RoleGuess {
  readonly role: FieldRole | undefined;
  readonly evidence: readonly string[];
  /** Roles between which the file does not decide. */
  readonly open: readonly string[];
}

const OLDEST = 130;
/** Enough values lie in the range for the column to be what its name says. */
const MOSTLY = 0.9;

/**
 * Which role each column has, by its name and its values together.
 *
 * A name alone is not enough where the values cannot be of the role, and values alone only where they are words that
 * nothing else has (left and right, female and male). Each role goes to one column; where two fit equally well it goes
 * to neither, and a person decides.
 */
export function roleGuesses(columns: readonly GuessedColumn[]): readonly RoleGuess[] {
  const roles: FieldRole[] = [
    ...CASE_ROLES,
    ...TECHNIQUE_STEPS.map((step) => `technique:${step}` as const),
    ...REVISION_REASONS.map((reason) => `${REASON_TICK}${reason}` as const),
  ];
  const candidates = columns.flatMap((column, at) =>
    roles.flatMap((role) => {
      const score = scoreOf(column, role);
      return score === 0 ? [] : [{ at, role, score }];
    }),
  );
  const found = columns.map((): { role?: FieldRole; open: string[] } => ({ open: [] }));
  const given = new Set<FieldRole>();
  for (const { at, role, score } of candidates.toSorted((one, other) => other.score - one.score)) {
    const guess = found[at];
    if (guess === undefined || guess.role !== undefined || given.has(role)) continue;
    const rival = candidates.find(
      (each) =>
        each.role === role && each.at !== at && each.score === score && found[each.at]?.role === undefined,
    );
    if (rival === undefined) {
      guess.role = role;
      given.add(role);
    } else if (!guess.open.includes(role)) guess.open.push(role);
  }
  return columns.map((column, at) => {
    const { role = recordedOnRole(column, given), open = [] } = found[at] ?? {};
    return {
      role,
      evidence: role === undefined ? [] : evidenceOf(column, role),
      open:
        role === undefined ? open.map((each) => `may have the role ${each}, but so may another column`) : [],
    };
  });
}

/** 0: the column cannot have the role. */
function scoreOf(column: GuessedColumn, role: FieldRole): number {
  const { name } = column.profile;
  if (nameWords(name).some((word) => word === "recorded" || word === "noted")) return 0;
  const named = nameScore(name, role);
  const fits = valuesFit(column, role);
  if (fits === false) return 0;
  if (named === 0) return fits === "decisive" ? 1 : 0;
  return 2 * named + (fits === "decisive" ? 1 : 0);
}

/** Whether the values can be of the role: decisively where they can be little else. */
function valuesFit({ profile, type }: GuessedColumn, role: FieldRole): boolean | "decisive" {
  if (profile.present === 0) return role !== "caseId";
  const isNumber = type.type === "integer" || type.type === "number";
  if (role.endsWith("Date")) return type.type === "date" || hasSerials(profile);
  if (type.type === "date") return false;
  if (role.startsWith(REASON_TICK)) return allWords(profile, (word, words) => isTick(word, words));
  switch (role) {
    case "caseId":
      return profile.allDifferent && !("decimalChar" in type) && type.type !== "number";
    case "patientId":
      return profile.words === undefined || profile.words.size > profile.present / 5;
    case "ageYears":
      return isNumber && isAgeInTheMiddle(profile);
    case "bmi":
      // Heights and weights under this name are told apart by the check of units.
      return isNumber && profile.smallest >= 0;
    case "followUpTime":
      return isNumber;
    case "asaGrade":
      return allWords(profile, (word) => /^([1-6]|I{1,3}|IV|V|VI)$/i.test(word.trim()));
    case "side":
      return allWords(profile, isSideWord) ? "decisive" : false;
    case "sex":
      return allWords(profile, isSexWord) ? "decisive" : false;
    default:
      return profile.words !== undefined || role === "surgeon";
  }
}

/** A slip or two, such as 750, takes no column its role: they are findings once it is read. */
function isAgeInTheMiddle({ middle }: ColumnProfile): boolean {
  return middle >= 0 && middle <= OLDEST;
}

function hasSerials({ shapes, present, smallest, largest }: ColumnProfile): boolean {
  return shapes.whole >= MOSTLY * present && smallest >= 20_000 && largest <= 70_000;
}

function allWords(
  { words }: ColumnProfile,
  isWord: (word: string, words: readonly string[]) => boolean,
): boolean {
  const present = [...(words?.keys() ?? [])].filter((word) => !isMissingWord(word));
  return words !== undefined && present.length > 0 && present.every((word) => isWord(word, present));
}

/** The day on which a step was written down: a date whose name begins with the step's. */
function recordedOnRole(
  { profile, type }: GuessedColumn,
  given: ReadonlySet<FieldRole>,
): FieldRole | undefined {
  const words = nameWords(profile.name);
  const end = words.findIndex((word) => word === "recorded" || word === "noted");
  if (type.type !== "date" || end < 1) return undefined;
  const step = words.slice(0, end).join(" ");
  const found = TECHNIQUE_STEPS.find((each) => nameScore(step, `technique:${each}`) >= 2);
  return found !== undefined && given.has(`technique:${found}`) ? `technique:${found}:recordedOn` : undefined;
}

function evidenceOf(column: GuessedColumn, role: FieldRole): string[] {
  const named = nameScore(column.profile.name, role);
  const name = ["", "the name holds its words", "the name says so", "the name says so"][named] ?? "";
  const { words } = column.profile;
  const isStep = role.startsWith("technique:") && !role.endsWith(":recordedOn");
  const values = [
    ...(role === "side" ? ["all words mean left or right"] : []),
    ...(role === "sex" ? ["all words mean female or male"] : []),
    ...(role === "caseId" ? ["no two values are equal"] : []),
    ...(role === "ageYears" || role === "bmi" ? [rangeEvidence(column.profile)] : []),
    ...(isStep && words !== undefined ? [stateEvidence([...words.keys()])] : []),
  ];
  return [...(named === 0 ? [] : [name]), ...values];
}

/** Whole numbers around the middle: no single patient's value. */
function rangeEvidence({ middle }: ColumnProfile): string {
  return Number.isNaN(middle) ? "no number to judge by" : `the middle value is about ${Math.round(middle)}`;
}

function stateEvidence(words: readonly string[]): string {
  const known = words.filter(
    (word) =>
      unsureStates(word) === undefined &&
      (stateOfWord(word, words) !== undefined || isMissingWord(word) || word.trim() === ""),
  );
  return `${known.length} of its ${words.length} words have a known meaning`;
}
