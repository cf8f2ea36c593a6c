/** One slip of the hand is allowed for so many letters. */
const LETTERS_A_SLIP = 3;
/** From so many letters on, the beginning of a word stands for the word. */
const LETTERS_OF_A_BEGINNING = 4;

/**
 * The known word that a misspelt one most likely means; undefined where none is near enough to be offered.
 *
 * Slips are letters added, left out, changed, or exchanged with their neighbour; case, accents and marks between letters do
 * not count. One slip is allowed for three letters. Of words equally near the first is taken; a beginning that one word
 * alone has stands for that word.
 *
 * @example
 * nearestWord("tourniqet", ["pressurisation", "tourniquet"]); // "tourniquet"
 */
export function nearestWord(written: string, known: readonly string[]): string | undefined {
  const letters = lettersOf(written);
  if (letters === "") return undefined;
  let nearest: string | undefined;
  let fewest = Number.POSITIVE_INFINITY;
  for (const word of known) {
    const others = lettersOf(word);
    const allowed = Math.floor(Math.min(letters.length, others.length) / LETTERS_A_SLIP);
    const found = slips(letters, others);
    if (found <= allowed && found < fewest) [nearest, fewest] = [word, found];
  }
  return nearest ?? onlyBeginning(letters, known);
}

function onlyBeginning(letters: string, known: readonly string[]): string | undefined {
  const found = known.filter((word) => {
    const [shorter, longer] = [letters, lettersOf(word)].sort((a, b) => a.length - b.length);
    return shorter !== undefined && shorter.length >= LETTERS_OF_A_BEGINNING && longer?.startsWith(shorter);
  });
  return found.length === 1 ? found[0] : undefined;
}

/** What a person hears of a word. */
function lettersOf(word: string): string {
  return word
    .normalize("NFD")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]/gu, "");
}

/** Fewest slips that make one word of the other: by rows of a table, of which the last two are kept. */
function slips(one: string, other: string): number {
  let before: readonly number[] = [];
  let above = Array.from({ length: other.length + 1 }, (_, at) => at);
  for (let i = 1; i <= one.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= other.length; j += 1) {
      const isSame = one[i - 1] === other[j - 1];
      // In range: every row is as long as the other word and one.
      let least = Math.min(above[j]! + 1, row[j - 1]! + 1, above[j - 1]! + (isSame ? 0 : 1));
      const isExchanged = i > 1 && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1];
      if (isExchanged) least = Math.min(least, before[j - 2]! + 1);
      row.push(least);
    }
    [before, above] = [above, row];
  }
  return above[other.length] ?? 0;
}
