import type { Cleared, ClearedCell, ClearedTable } from "../disclosure/cleared.ts";
import type { Figure } from "../report/block.ts";
import { FIGURE_WIDTH, FONT_SIZE } from "./curve-layout.ts";
import { type FigureOptions, frameFigure, INK, identifier, QUIET_INK } from "./figure-frame.ts";
import { type SvgDocument, type SvgNode, svgDocument, svgElement } from "./svg-document.ts";
import { textWidth, wrapText } from "./text-width.ts";

const [ROW_HEIGHT, LEGEND_HEIGHT, MOST_LEFT] = [22, 30, 260];
const [SMALL, SLANT] = [FONT_SIZE - 2, 40];
/** From here on a share is filled so; darker is less complete. */
const SHADES = [
  { from: 95, fill: "#eef3f6", ink: INK, label: "95 % and over" },
  { from: 80, fill: "#bcd0dc", ink: INK, label: "80 to 94 %" },
  { from: 50, fill: "#7ea3b8", ink: INK, label: "50 to 79 %" },
  { from: 0, fill: "#123f5e", ink: "#ffffff", label: "under 50 %" },
] as const;

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
}

/**
 * Percentages of a table as a grid of shaded boxes: what is missing stands out dark.
 *
 * Undefined where no percentage is shown. Nothing is computed: a hidden cell is an empty box with a line across, and a
 * cell without an answer stays blank.
 */
export function shareFigure(table: Cleared<ClearedTable>, options: FigureOptions = {}): Figure | undefined {
  const columns = table.columns.slice(1);
  if (!table.rows.some(({ cells }) => cells.some(({ values }) => values.length > 0))) return undefined;
  const document = svgDocument();
  const labels = table.rows.filter(({ heading }) => !heading).map(({ label }) => textWidth(label, FONT_SIZE));
  const left = Math.min(MOST_LEFT, Math.max(60, ...labels) + 14);
  const width = (FIGURE_WIDTH - left) / columns.length;
  const isSlanted = columns.some(({ label }) => textWidth(label, SMALL) > width - 4);
  const top = LEGEND_HEIGHT + (isSlanted ? 74 : 22);
  const nodes = [
    ...legend(document),
    ...columns.map(({ label }, at) =>
      columnLabel(document, label, left + (at + 0.5) * width, top - 7, isSlanted),
    ),
    ...table.rows.flatMap(({ label, heading, cells }, row) => {
      const y = top + row * ROW_HEIGHT;
      return [
        rowLabel(document, label, heading, y, left),
        ...cells.flatMap((cell, at) => boxNodes(document, cell, { x: left + at * width, y, width })),
      ];
    }),
  ];
  const text = frameFigure(document, nodes, {
    ...options,
    id: table.id,
    title: table.title,
    description: description(table),
    width: FIGURE_WIDTH,
    height: top + table.rows.length * ROW_HEIGHT + 6,
  });
  return { fileName: `${identifier(table.id)}.svg`, svg: text };
}

function boxNodes(
  document: SvgDocument,
  { values: [value], hidden }: ClearedCell,
  { x, y, width }: Box,
): SvgNode[] {
  if (value === undefined && !hidden) return [];
  const shade = SHADES.find(({ from }) => Math.round(value ?? 100) >= from) ?? SHADES[3];
  const [right, bottom] = [x + width - 1.5, y + ROW_HEIGHT - 1.5];
  const frame = { x, y, width: right - x, height: bottom - y };
  if (value === undefined) {
    return [
      svgElement(document, "rect", { ...frame, fill: "#ffffff", stroke: "#c9c4ba" }),
      svgElement(document, "line", { x1: x, y1: bottom, x2: right, y2: y, stroke: "#c9c4ba" }),
    ];
  }
  const words = String(Math.round(value));
  const box = svgElement(document, "rect", { ...frame, fill: shade.fill });
  if (textWidth(words, SMALL) > width - 1.5) return [box];
  const place = { x: x + width / 2, y: y + ROW_HEIGHT / 2 + SMALL * 0.33, "text-anchor": "middle" };
  return [box, svgElement(document, "text", { ...place, fill: shade.ink, "font-size": SMALL }, words)];
}

function legend(document: SvgDocument): SvgNode[] {
  let x = 0;
  const sample = (mark: readonly SvgNode[], words: string) => {
    const text = svgElement(document, "text", { x: x + 24, y: 14, "font-size": SMALL }, words);
    x += 24 + textWidth(words, SMALL) + 18;
    return [...mark, text];
  };
  const frame = () => ({ x, y: 3, width: 18, height: 13, stroke: "#c9c4ba" });
  return [
    ...SHADES.flatMap(({ fill, label }) =>
      sample([svgElement(document, "rect", { ...frame(), fill })], label),
    ),
    ...sample(
      [
        svgElement(document, "rect", { ...frame(), fill: "#ffffff" }),
        svgElement(document, "line", { x1: x, y1: 16, x2: x + 18, y2: 3, stroke: "#c9c4ba" }),
      ],
      "hidden",
    ),
  ];
}

function columnLabel(document: SvgDocument, label: string, x: number, y: number, isSlanted: boolean) {
  const [words = ""] = wrapText(label, SMALL, isSlanted ? 100 : 400, 1);
  const place = { x, y, fill: QUIET_INK, "font-size": SMALL, "unicode-bidi": "plaintext" };
  return isSlanted
    ? svgElement(document, "text", { ...place, transform: `rotate(-${SLANT},${x},${y})` }, words)
    : svgElement(document, "text", { ...place, "text-anchor": "middle" }, words);
}

function rowLabel(document: SvgDocument, label: string, heading: boolean, y: number, left: number): SvgNode {
  const [words = ""] = wrapText(label, FONT_SIZE, heading ? FIGURE_WIDTH - 8 : left - 8, 1);
  const place = { x: 0, y: y + ROW_HEIGHT / 2 + FONT_SIZE * 0.33, "unicode-bidi": "plaintext" };
  return svgElement(document, "text", heading ? { ...place, "font-weight": 600 } : place, words);
}

function description({ title, rows, columns }: ClearedTable): string {
  const words = rows
    .filter(({ heading }) => !heading)
    .map(({ label, cells }) => {
      const told = cells.map(({ text }, at) => `${columns[at + 1]?.label} ${text}`);
      return `${label}: ${told.join(", ")}.`;
    });
  return [`${title}, as shaded boxes; darker is less complete.`, ...words].join(" ");
}
