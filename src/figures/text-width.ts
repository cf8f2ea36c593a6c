/**
 * Widths of characters in parts of the font size.
 *
 * There is no font to ask in Node. These are the widths of a broad sans (every common sans is narrower), 10 % over.
 */
const NARROW = 0.4;
const DIGIT = 0.64;
const SMALL = 0.62;
const CAPITAL = 0.72;
const BROAD = 1;
const SAFETY = 1.1;
/** How much broader a semi-bold face runs. */
const BOLD = 1.12;

const WITHOUT_WIDTH = /[\p{Mark}\p{Default_Ignorable_Code_Point}]/u;

/** Room a line of text needs in pixels, rather too much than too little. */
export function textWidth(text: string, fontSize: number): number {
  let ems = 0;
  for (const character of text) ems += characterWidth(character);
  return ems * fontSize * SAFETY;
}

/** As `textWidth`, in the semi-bold of labels and headings. */
export function boldWidth(text: string, fontSize: number): number {
  return BOLD * textWidth(text, fontSize);
}

/** Text broken between words into lines of at most `width` pixels; what exceeds `maximumLines` ends in "…". */
export function wrapText(text: string, fontSize: number, width: number, maximumLines = 3): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/).filter((part) => part !== "")) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (textWidth(longer, fontSize) <= width || line === "") line = longer;
    else {
      lines.push(line);
      line = word;
    }
  }
  if (line !== "") lines.push(line);
  const kept = lines.slice(0, maximumLines);
  const last = kept.length - 1;
  if (lines.length > maximumLines) kept[last] = `${kept[last]} …`;
  return kept.map((part) => shortened(part, fontSize, width));
}

/** The text, or as much of it as fits with "…" at its end. */
function shortened(text: string, fontSize: number, width: number): string {
  if (textWidth(text, fontSize) <= width) return text;
  const characters = [...text];
  while (characters.length > 1 && textWidth(`${characters.join("")}…`, fontSize) > width) characters.pop();
  return `${characters.join("").trimEnd()}…`;
}

function characterWidth(character: string): number {
  if (WITHOUT_WIDTH.test(character)) return 0;
  if (/[\s.,:;'’|!()[\]{}ijlftrI/\\-]/.test(character)) return NARROW;
  if (/[0-9]/.test(character)) return DIGIT;
  if (/[mwMW%@&—…]/.test(character)) return BROAD;
  if (/\p{Lu}/u.test(character)) return CAPITAL;
  // Latin, Greek, Cyrillic, Hebrew and Arabic; beyond them a character may be as broad as it is high.
  return character < "\u0700" || (character >= "\u2010" && character <= "\u2212") ? SMALL : BROAD;
}
