import { DIFFERENCE_PARTS, type ReportDifference } from "../study/comparing/difference.ts";

/** Beyond this a list of one table explains nothing more. */
const MOST_EACH = 8;
/** Files whose bytes differ follow from what was told before: they are listed in a row. */
const FILES = "files";

/** Differences as lines for a terminal: by part, then by what they are about. */
export function differenceLines(differences: readonly ReportDifference[]): string[] {
  return DIFFERENCE_PARTS.flatMap((part) => {
    const own = differences.filter((difference) => difference.part === part);
    if (own.length === 0) return part === "what went in" ? nothingWentIn(differences) : [];
    const heading = `${part.charAt(0).toUpperCase()}${part.slice(1)}`;
    return [heading, ...(part === FILES ? fileLines(own) : aboutLines(own))];
  });
}

/** The same inputs and other results: the one thing a reader must not overlook. */
function nothingWentIn(differences: readonly ReportDifference[]): string[] {
  if (!differences.some(({ part }) => part === "what came out")) return [];
  return ["What went in", "  is the same, as far as the two reports tell"];
}

function aboutLines(differences: readonly ReportDifference[]): string[] {
  const subjects = [...new Set(differences.map(({ about }) => about))];
  return subjects.flatMap((about) => {
    const own = differences.filter((difference) => difference.about === about);
    if (own.length === 1) return [`  ${about}: ${own[0]?.what}`];
    const more = own.length - MOST_EACH;
    return [
      `  ${about}`,
      ...own.slice(0, MOST_EACH).map(({ what }) => `    ${what}`),
      ...(more > 0 ? [`    … and ${more} more`] : []),
    ];
  });
}

function fileLines(differences: readonly ReportDifference[]): string[] {
  const kinds = [...new Set(differences.map(({ what }) => what))];
  return kinds.map((kind) => {
    const paths = differences.filter(({ what }) => what === kind).map(({ about }) => about);
    return `  ${kind}: ${paths.join(", ")}`;
  });
}
