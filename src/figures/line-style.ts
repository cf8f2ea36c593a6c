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

/** Style of the group at a place; after the sixth they begin again with a broader line. */
export function lineStyle(index: number): LineStyle {
  const place = Math.max(0, Math.trunc(index));
  const style = LINE_STYLES[place % LINE_STYLES.length] ?? { colour: "#123f5e", width: 2.2 };
  return { ...style, width: style.width + Math.floor(place / LINE_STYLES.length) };
}
