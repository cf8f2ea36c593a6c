import type { CellTaker } from "../cell-reader.ts";
import { CELL_SHAPES, type CellShape, cellShape, dateMark } from "./cell-shape.ts";

/** What all cells of a column are like. Nothing here is the text of one cell, but for words that many cells share. */
export interface ColumnProfile {
  readonly name: string;
  readonly rows: number;
  readonly shapes: Readonly<Record<CellShape, number>>;
  /** Cells with a value: neither blank nor a word for missing. */
  readonly present: number;
  /** How often each different text occurs; undefined where they are too many to be words of a list. */
  readonly words: ReadonlyMap<string, number> | undefined;
  /** Whether no two present cells are equal. */
  readonly allDifferent: boolean;
  readonly smallest: number;
  readonly largest: number;
  /** Middle of the numbers, NaN where there are none. */
  readonly middle: number;
  /** Marks between the parts of dates. */
  readonly dateMarks: readonly string[];
}

export interface ColumnProfiler extends CellTaker {
  profile(): ColumnProfile;
}

/** A word of the file is shown only where so many rows hold it: it then describes no one. */
export const LEAST_ROWS_SHOWN = 10;

/** More different texts than this are no list. */
const MOST_WORDS = 1000;

/** Looks at every cell of one column. */
export function columnProfiler(name: string, position: number): ColumnProfiler {
  const shapes = Object.fromEntries(CELL_SHAPES.map((shape) => [shape, 0])) as Record<CellShape, number>;
  let words: Map<string, number> | undefined = new Map();
  const shapeOfWord = new Map<string, CellShape>();
  let seen: Set<string> | undefined = new Set();
  const numbers: number[] = [];
  const marks = new Set<string>();
  let rows = 0;
  let [smallest, largest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];

  function take(text: string): void {
    rows += 1;
    const shape = shapeOf(text);
    shapes[shape] += 1;
    if (shape === "blank") return;
    countWord(text);
    if (shape === "missingWord") return;
    if (seen?.has(text)) seen = undefined;
    seen?.add(text);
    if (shape === "whole" || shape === "decimalPoint" || shape === "decimalComma") keepNumber(text);
    else if (shape.startsWith("date") || shape === "isoDate") marks.add(dateMark(text) ?? "");
  }

  function shapeOf(text: string): CellShape {
    const known = shapeOfWord.get(text);
    if (known !== undefined) return known;
    const shape = cellShape(text);
    if (shapeOfWord.size < MOST_WORDS) shapeOfWord.set(text, shape);
    return shape;
  }

  function countWord(text: string): void {
    words?.set(text, (words.get(text) ?? 0) + 1);
    if (words !== undefined && words.size > MOST_WORDS) words = undefined;
  }

  function keepNumber(text: string): void {
    const value = Number(text.trim().replace(",", "."));
    smallest = Math.min(smallest, value);
    largest = Math.max(largest, value);
    numbers.push(value);
  }

  return {
    position,
    // A column nobody has described is asked for as days: a true day then comes as ISO, all else as it stands.
    spelling: { kind: "day", dateFormat: "default", decimalChar: "." },
    take: (_row, cells, start, end) => take(cells.text(start, end)),
    refuse: () => {
      rows += 1;
      shapes.text += 1;
    },
    profile() {
      const present = rows - shapes.blank - shapes.missingWord;
      const sorted = Float64Array.from(numbers).sort();
      return {
        name,
        rows,
        shapes,
        present,
        words,
        allDifferent: seen !== undefined && present > 0,
        smallest,
        largest,
        middle: sorted[sorted.length >> 1] ?? Number.NaN,
        dateMarks: [...marks],
      };
    },
  };
}
