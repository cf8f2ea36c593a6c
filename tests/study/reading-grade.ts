/**
 * Years of school a text asks for: Flesch–Kincaid grade, Kincaid and others 1975.
 *
 * A line is a sentence of its own; numbers are left out, because they have no syllables to count.
 */
export function readingGrade(text: string): number {
  const sentences = text
    .split(/[.?!](?:\s|$)|\n/)
    .map((sentence) => sentence.match(/[a-z']*[a-z][a-z']*/gi) ?? [])
    .filter((words) => words.length > 0);
  const words = sentences.flat();
  const syllables = words.reduce((sum, word) => sum + syllablesOf(word), 0);
  return 0.39 * (words.length / sentences.length) + 11.8 * (syllables / words.length) - 15.59;
}

/** Groups of vowels, without a silent final e; at least one. */
function syllablesOf(word: string): number {
  const plain = word.toLowerCase().replace(/'s?$/, "");
  const spoken = /[^aeiouy]le$/.test(plain)
    ? plain
    : plain.replace(/([^aeiouy])es?$/, "$1").replace(/([^aeiouydt])ed$/, "$1");
  return Math.max(1, spoken.match(/[aeiouy]+/g)?.length ?? 0);
}
