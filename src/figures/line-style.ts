import type { LineSubject } from "../disclosure/exhibit.ts";

/** How one group is drawn, on every page and in every figure of a report. */
export interface LineStyle {
  readonly colour: string;
  /** Dash pattern; undefined for a solid line. */
  readonly dashes?: string;
  readonly width: number;
}

/**
 * Six styles that differ in colour, in lightness and in dash, so that they stay apart in grey and on a copy.
 *
 * Each colour has a contrast of at least 3 to 1 on white. No red and green: a group is neither good nor bad.
 */
export const LINE_STYLES: readonly LineStyle[] = [
  { colour: "#123f5e", width: 2.2 },
  { colour: "#c05a12", dashes: "8 4", width: 2.2 },
  { colour: "#4d9a90", dashes: "2 3", width: 2.4 },
  { colour: "#73437f", dashes: "10 3 2 3", width: 2.2 },
  { colour: "#8b7d3a", dashes: "14 5", width: 2.2 },
  { colour: "#2b2b2b", dashes: "5 2", width: 1.4 },
];

/** Colours are the groups' own: two of them compared are drawn in ink. */
export const COMPARISON_STYLES: readonly LineStyle[] = [
  { colour: "#1c2428", width: 2.2 },
  { colour: "#545e63", dashes: "8 4", width: 2.2 },
  { colour: "#1c2428", dashes: "2 3", width: 2.4 },
];

/** What became of people, from the outcome asked about to the last of the others: greys, darkest first. */
export const OUTCOME_STYLES: readonly LineStyle[] = [
  { colour: "#1c2428", width: 2.2 },
  { colour: "#6b7378", dashes: "8 4", width: 2.2 },
  { colour: "#8f969a", dashes: "2 3", width: 2.4 },
];

const STYLES: Readonly<Record<LineSubject, readonly LineStyle[]>> = {
  groups: LINE_STYLES,
  comparisons: COMPARISON_STYLES,
  outcomes: OUTCOME_STYLES,
};

/** Style of the group, comparison or outcome at a place; after the last they begin again with a broader line. */
export function lineStyle(index: number, of: LineSubject = "groups"): LineStyle {
  const styles = STYLES[of];
  const place = Math.max(0, Math.trunc(index));
  const style = styles[place % styles.length] ?? { colour: "#123f5e", width: 2.2 };
  return { ...style, width: style.width + Math.floor(place / styles.length) };
}
