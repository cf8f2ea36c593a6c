import { capital } from "../../base/words.ts";
import type { TableExhibit } from "../../disclosure/exhibit.ts";
import type { OtherMeasures } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { levelWords } from "../words.ts";
import { limitsCell, noCell, textCell } from "./cells.ts";

/** Events seen against those that the plan's table of rates leads one to expect. */
export function expectedExhibit(
  expected: OtherMeasures["expected"],
  facts: StudyFacts,
): readonly TableExhibit[] {
  if (expected === undefined) return [];
  const base = {
    kind: "table" as const,
    id: "expected",
    title: `${capital(facts.words.event.many)} seen, against those expected from a table of rates`,
    columns: [
      { id: "group", label: "Group" },
      { id: "seen", label: "Seen", align: "end" as const },
      { id: "expected", label: "Expected", align: "end" as const },
      {
        id: "ratio",
        label: `Seen over expected (${levelWords(facts.level)} interval)`,
        align: "end" as const,
      },
      { id: "p", label: "p", align: "end" as const },
    ],
  };
  const source = `Table of rates: ${facts.plan.expectedRates?.source}. Exact Poisson limits; the expected number counts as known.`;
  if (!expected.computed) {
    const blanks = [textCell(""), textCell(""), textCell("")];
    return [
      { ...base, rows: [{ label: "all groups", cells: [noCell(expected), ...blanks] }], notes: [source] },
    ];
  }
  return [
    {
      ...base,
      rows: expected.groups.map(({ group, observed, against }) => ({
        label: group,
        cells: [
          { kind: "number" as const, value: observed, decimals: 0, restsOn: [] },
          ...(against.computed
            ? [
                { kind: "number" as const, value: against.expected, decimals: 1, restsOn: [] },
                limitsCell([against.ratio, against.lower, against.upper], 2, []),
                { kind: "pValue" as const, p: against.p, restsOn: [] },
              ]
            : [noCell(against), textCell(""), textCell("")]),
        ],
      })),
      notes: [
        source,
        ...(expected.leftOut === 0
          ? []
          : [
              `${expected.leftOut} ${facts.words.unit.many} without date, age or sex are left out of both numbers.`,
            ]),
      ],
      settings: { source: facts.plan.expectedRates?.source, level: facts.level },
    },
  ];
}
