import { fixed } from "../../src/base/display.ts";
import type { Cell, TableExhibit, TableRow } from "../../src/disclosure/exhibit.ts";
import type { Check, Example, Method, PrintCheck } from "./check.ts";
import { countText, differenceText, numberText, toleranceText } from "./number-text.ts";

/** Row label of the sums in the table of all methods. */
export const TOTAL = "All methods";

/** One line a method: how many values were compared, how many agree, and the largest difference. */
export function summaryTable(methods: readonly Method[]): TableExhibit {
  return {
    kind: "table",
    id: "summary",
    title: "Methods, checks and the largest difference",
    columns: [
      { id: "method", label: "Method" },
      { id: "values", label: "Values compared", align: "end" },
      { id: "agree", label: "Agree", align: "end" },
      { id: "printed", label: "Printed figures", align: "end" },
      { id: "printed-agree", label: "Agree with print", align: "end" },
      { id: "largest", label: "Largest relative difference", align: "end" },
    ],
    rows: [
      ...methods.map((method) => summaryRow(method.title, checksOf(method))),
      summaryRow(TOTAL, methods.flatMap(checksOf)),
    ],
    notes: [
      "Largest relative difference: |Mantle − reference| over |reference|, over all values of the method; where the reference is 0 the difference itself.",
      "A printed figure agrees when the computed value rounds to it.",
    ],
  };
}

/** The checks of one method, under a heading for each example. */
export function methodTable(method: Method): TableExhibit {
  return {
    kind: "table",
    id: method.id,
    title: method.title,
    columns: [
      { id: "quantity", label: "Quantity" },
      { id: "published", label: "Published", align: "end" },
      { id: "reference", label: "Reference", align: "end" },
      { id: "ours", label: "Mantle", align: "end" },
      { id: "difference", label: "Relative difference (allowed)", align: "end" },
      { id: "verdict", label: "Verdict" },
    ],
    rows: method.examples.flatMap((example) => [
      { label: headingOf(example), heading: true, cells: [] },
      ...example.checks.map(checkRow),
    ]),
    notes: [
      `Functions: ${method.functions.join(", ")}.`,
      "A row that stands for several values shows the one farthest from its reference.",
      ...(method.notes ?? []),
    ],
  };
}

/** Printed figures that neither the reference nor the package meets, with the reason. */
export function printDifferences(methods: readonly Method[]): TableExhibit {
  const rows = methods.flatMap((method) =>
    method.examples.flatMap((example) =>
      example.checks.flatMap((check) =>
        check.print?.agrees === false ? [differenceRow(example, check, check.print)] : [],
      ),
    ),
  );
  return {
    kind: "table",
    id: "print-differences",
    title: "Where print and reference differ",
    columns: [
      { id: "quantity", label: "Quantity" },
      { id: "printed-in", label: "Printed in" },
      { id: "published", label: "Published", align: "end" },
      { id: "reference", label: "Reference", align: "end" },
      { id: "ours", label: "Mantle", align: "end" },
      { id: "reason", label: "Reason" },
    ],
    rows,
  };
}

export function checksOf(method: Method): readonly Check[] {
  return method.examples.flatMap(({ checks }) => checks);
}

/** In words, from the comparison; never typed. */
export function verdictOf({ fault, print }: Check): string {
  if (fault !== undefined) return `differs: ${fault}`;
  if (print === undefined || print.agrees) return "agrees";
  return "agrees; print differs";
}

function summaryRow(label: string, checks: readonly Check[]): TableRow {
  const sum = (part: (check: Check) => number) => checks.reduce((total, check) => total + part(check), 0);
  const prints = checks.flatMap(({ print }) => (print === undefined ? [] : [print]));
  const figures = (some: readonly PrintCheck[]) =>
    some.reduce((total, { figures }) => total + figures.length, 0);
  const largest = checks.reduce((most, { difference }) => Math.max(most, difference), 0);
  return {
    label,
    cells: [
      countText(sum(({ values }) => values)),
      countText(sum(({ agreeing }) => agreeing)),
      countText(figures(prints)),
      countText(figures(prints.filter(({ agrees }) => agrees))),
      differenceText(largest),
    ].map(text),
  };
}

function checkRow(check: Check): TableRow {
  return {
    label: check.values === 1 ? check.quantity : `${check.quantity} (${countText(check.values)} values)`,
    indent: 1,
    cells: [
      publishedText(check.print),
      numberText(check.reference),
      numberText(check.ours),
      `${differenceText(check.difference)} (${toleranceText(check.tolerance)})`,
      verdictOf(check),
    ].map(text),
  };
}

function differenceRow(example: Example, check: Check, print: PrintCheck): TableRow {
  return {
    label: `${check.quantity}: ${example.title}`,
    cells: [
      printSource(example),
      publishedText(print),
      numberText(check.reference),
      numberText(check.ours),
      print.because ?? "not known",
    ].map(text),
  };
}

function headingOf(example: Example): string {
  const print = example.printedIn === undefined ? "" : `. Printed: ${printSource(example)}`;
  return `${example.title}${print}. Reference: ${example.reference}`;
}

function printSource({ printedIn = "", fromMemory }: Example): string {
  return fromMemory ? `${printedIn} (figures and places from memory)` : printedIn;
}

function publishedText(print: PrintCheck | undefined): string {
  if (print === undefined) return "";
  return print.figures.map((figure) => fixed(figure, print.decimals)).join("; ");
}

function text(words: string): Cell {
  return { kind: "text", text: words };
}
