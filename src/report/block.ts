import type { Cleared, ClearedExhibit } from "../disclosure/cleared.ts";

/** Running text. A run is plain, stressed, or leads to a section of the page by its id; the renderer escapes all. */
export type Run = string | { readonly strong: string } | { readonly section: string; readonly words: string };
export type Prose = string | readonly Run[];

/** A report is a list of blocks; one renderer turns them into one page. */
export type Block =
  | {
      readonly kind: "section";
      readonly id: string;
      readonly title: string;
      readonly blocks: readonly Block[];
    }
  | { readonly kind: "prose"; readonly text: Prose }
  | { readonly kind: "list"; readonly items: readonly Prose[] }
  /** The sentence a committee takes home: large, at the top. */
  | { readonly kind: "answer"; readonly text: Prose }
  | { readonly kind: "caution"; readonly text: Prose }
  | {
      readonly kind: "exhibit";
      readonly exhibit: Cleared<ClearedExhibit>;
      readonly figure?: Figure;
      /** A table whose picture holds its numbers is folded beneath it, and so are those of its notes that are of no use there. */
      readonly foldTable?: { readonly tableNotes: readonly string[] };
    }
  /** A second view of exhibits whose numbers stand elsewhere on the page; `numbers` says where. */
  | {
      readonly kind: "picture";
      readonly title: string;
      readonly question: string;
      readonly figure: Figure;
      readonly numbers: string;
    }
  /** Folded away until asked for: notebook source, the plan as data. */
  | { readonly kind: "folded"; readonly title: string; readonly text: string }
  | { readonly kind: "facts"; readonly items: readonly { readonly term: string; readonly text: string }[] }
  /** Printed choices to mark by hand. */
  | {
      readonly kind: "choices";
      readonly title: string;
      readonly items: readonly string[];
      /** What is to be written in by hand, a line each. */
      readonly lines?: readonly string[];
    };

/** A drawn exhibit. The renderer sets the svg as it is: only `figures/` may make one. */
export interface Figure {
  readonly fileName: string;
  readonly svg: string;
  /** What it shows, in a sentence with its numbers: stands above it, and is part of its name. */
  readonly finding?: string;
  /** The same drawn inside the table, which then needs no picture beside it. */
  readonly marks?: TableMarks;
  /** Where the plot of a curve figure stands in its picture, so that a script can point into it. */
  readonly plot?: PlotArea;
}

/** Small drawings in one column of a table; only `figures/` may make them. */
export interface TableMarks {
  /** Place of the column. */
  readonly column: number;
  /** Stands under the words at the head of the column. */
  readonly scale: string;
  /** By row; undefined where the row has no mark. */
  readonly rows: readonly (string | undefined)[];
}

/** In units of the picture's view box. Years run from 0 at the left to `yearsEnd` at the right. */
export interface PlotArea {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly yearsEnd: number;
}

/** Everything on one page. */
export interface ReportPage {
  readonly title: string;
  readonly subtitle: string;
  /** Printed on every page, figure and file where the data are invented. */
  readonly stamp?: string;
  /** The two-page brief, then the rest. */
  readonly brief: readonly Block[];
  readonly sections: readonly (Block & { readonly kind: "section" })[];
  /** Version line at the foot. */
  readonly footer: readonly string[];
}
