import type { Cleared, ClearedFlow } from "../disclosure/cleared.ts";
import type { Figure } from "../report/block.ts";
import { type FigureOptions, frameFigure, INK, identifier } from "./figure-frame.ts";
import { type FlowPart, flowDescription, numbersLine } from "./flow-words.ts";
import { coordinate, type SvgDocument, type SvgNode, svgDocument, svgElement } from "./svg-document.ts";
import { boldWidth, wrapText } from "./text-width.ts";

const WIDTH = 760;
/** A frame on the very edge would lose half its line. */
const EDGE = 1;
const FONT_SIZE = 12.5;
const LINE_HEIGHT = 17;
const PADDING = 10;
const MAIN = { x: EDGE, width: 350 };
const SIDE = { x: 420, width: 340 - EDGE };
const SPINE = 176;
const GAP = 26;
const GROUP_GAP = 16;
const MOST_GROUPS_ABREAST = 4;

/**
 * Who was in the export, who left on the way and why, and the groups that remain: boxes with units and persons.
 *
 * The path of those who stay runs down the left; whoever is taken out stands beside the step that took them out.
 */
export function flowFigure(exhibit: Cleared<ClearedFlow>, options: FigureOptions = {}): Figure {
  const document = svgDocument();
  const { nodes, bottom } =
    exhibit.boxes.length === 0 ? noBoxes(document, exhibit, EDGE) : flow(document, exhibit, EDGE);
  const svg = frameFigure(document, nodes, {
    ...options,
    id: exhibit.id,
    title: exhibit.title,
    description: flowDescription(exhibit),
    width: WIDTH,
    height: bottom + 2,
  });
  return { fileName: `${identifier(exhibit.id)}.svg`, svg };
}

interface Drawn {
  readonly nodes: SvgNode[];
  readonly bottom: number;
}

function noBoxes(document: SvgDocument, exhibit: Cleared<ClearedFlow>, top: number): Drawn {
  const sentence = `No ${exhibit.unitWord} came in, so there is no path to draw.`;
  return { nodes: [svgElement(document, "text", { x: 0, y: top + 16 }, sentence)], bottom: top + 24 };
}

function flow(document: SvgDocument, exhibit: Cleared<ClearedFlow>, top: number): Drawn {
  const nodes: SvgNode[] = [];
  let y = top;
  for (const [at, box] of exhibit.boxes.entries()) {
    const main = boxNode(document, box, exhibit, { ...MAIN, y }, "#f3f1ec");
    nodes.push(...main.nodes);
    const goesOn = at < exhibit.boxes.length - 1 || exhibit.groups.length > 0;
    const side = sideBoxes(document, exhibit, at, main.bottom + GAP / 2);
    nodes.push(...side.nodes);
    const next = Math.max(main.bottom + GAP, side.bottom + (box.removed.length > 0 ? GAP / 2 : 0));
    const down: Path = [
      [SPINE, main.bottom],
      [SPINE, next],
    ];
    const toBus = at === exhibit.boxes.length - 1 && exhibit.groups.length > 1;
    if (goesOn) nodes.push(...(toBus ? [line(document, down)] : arrow(document, down)));
    y = goesOn ? next : Math.max(main.bottom, side.bottom);
  }
  const groups = groupBoxes(document, exhibit, y);
  return { nodes: [...nodes, ...groups.nodes], bottom: groups.bottom };
}

/** Whoever left after a box, one under the other, joined to the path. */
function sideBoxes(document: SvgDocument, exhibit: Cleared<ClearedFlow>, at: number, top: number): Drawn {
  const nodes: SvgNode[] = [];
  let y = top;
  for (const removed of exhibit.boxes[at]?.removed ?? []) {
    const drawn = boxNode(document, removed, exhibit, { ...SIDE, y }, "#ffffff");
    const middle = (y + drawn.bottom) / 2;
    nodes.push(
      ...arrow(document, [
        [SPINE, middle],
        [SIDE.x, middle],
      ]),
      ...drawn.nodes,
    );
    y = drawn.bottom + 8;
  }
  return { nodes, bottom: y === top ? top - GAP / 2 : y - 8 };
}

/** The groups abreast under one line, or one under the other where there are many. */
function groupBoxes(document: SvgDocument, exhibit: Cleared<ClearedFlow>, top: number): Drawn {
  const { groups } = exhibit;
  if (groups.length === 0) return { nodes: [], bottom: top };
  const abreast = Math.min(groups.length, MOST_GROUPS_ABREAST);
  const width = Math.min(MAIN.width, (WIDTH - 2 * EDGE - GROUP_GAP * (abreast - 1)) / abreast);
  const centre = (at: number) => EDGE + (at % abreast) * (width + GROUP_GAP) + width / 2;
  const busEnd = Math.max(SPINE, centre(abreast - 1));
  const nodes: SvgNode[] = [];
  if (abreast > 1)
    nodes.push(
      line(document, [
        [Math.min(SPINE, centre(0)), top],
        [busEnd, top],
      ]),
    );
  let rowTop = top + GAP - 6;
  let bottom = rowTop;
  for (const [at, group] of groups.entries()) {
    if (at > 0 && at % abreast === 0) rowTop = bottom + GROUP_GAP;
    const drawn = boxNode(
      document,
      group,
      exhibit,
      { x: centre(at) - width / 2, width, y: rowTop },
      "#e6ecf0",
    );
    const from = at < abreast ? top : rowTop - GROUP_GAP;
    nodes.push(
      ...arrow(document, [
        [centre(at), from],
        [centre(at), rowTop],
      ]),
      ...drawn.nodes,
    );
    bottom = Math.max(bottom, drawn.bottom);
  }
  return { nodes, bottom };
}

function boxNode(
  document: SvgDocument,
  part: FlowPart,
  exhibit: Cleared<ClearedFlow>,
  place: { readonly x: number; readonly y: number; readonly width: number },
  fill: string,
): Drawn {
  const inside = place.width - 2 * PADDING;
  const words = wrapText(part.label, FONT_SIZE, inside, 4);
  const numbers = numberLines(part, exhibit, inside);
  const height = (words.length + numbers.length) * LINE_HEIGHT + 2 * PADDING - 3;
  const text = [...numbers, ...words].map((content, at) =>
    svgElement(
      document,
      "text",
      {
        x: place.x + PADDING,
        y: place.y + PADDING + 10 + at * LINE_HEIGHT,
        "unicode-bidi": "plaintext",
        ...(at < numbers.length ? { "font-weight": 600, "font-variant": "tabular-nums" } : {}),
      },
      content,
    ),
  );
  const frame = { ...place, height, fill, stroke: "#7b8489", "stroke-width": 0.9, rx: 2 };
  return { nodes: [svgElement(document, "rect", frame), ...text], bottom: place.y + height };
}

/** Units and persons on one line where they fit, else on a line each. */
function numberLines(part: FlowPart, exhibit: Cleared<ClearedFlow>, width: number): string[] {
  const whole = numbersLine(part, exhibit);
  if (part.persons === undefined || boldWidth(whole, FONT_SIZE) <= width) return [whole];
  const [units, persons] = [
    `${part.units.text} ${exhibit.unitWord}`,
    `${part.persons.text} ${exhibit.personWord}`,
  ];
  return [units, `in ${persons}`];
}

type Path = readonly (readonly [number, number])[];

function arrow(document: SvgDocument, path: Path): SvgNode[] {
  const [end, before] = [path.at(-1) ?? [0, 0], path.at(-2) ?? [0, 0]];
  const [x, y] = end;
  const head =
    before[1] === y
      ? [
          [x - 6, y - 3.5],
          [x, y],
          [x - 6, y + 3.5],
        ]
      : [
          [x - 3.5, y - 6],
          [x, y],
          [x + 3.5, y - 6],
        ];
  const points = head.map(([px = 0, py = 0]) => `${coordinate(px)},${coordinate(py)}`).join(" ");
  return [line(document, path), svgElement(document, "polygon", { points, fill: INK })];
}

function line(document: SvgDocument, path: Path): SvgNode {
  const d = path.map(([x, y], at) => `${at === 0 ? "M" : "L"}${coordinate(x)},${coordinate(y)}`).join("");
  return svgElement(document, "path", { d, fill: "none", stroke: INK, "stroke-width": 1 });
}
