import type { Answer } from "../../base/answer.ts";
import type { TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import type { LogRankWeighting } from "../../survival/log-rank-weighting.ts";
import type { OtherTests } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { clusterWords } from "../words.ts";
import { noCell, textCell } from "./cells.ts";

/** Gray's test always; what else the plan declared. */
export function otherTestsExhibit(tests: OtherTests, facts: StudyFacts): TableExhibit {
  const { gray, weighted, trend, pairs = [] } = tests;
  return {
    kind: "table",
    id: "other-tests",
    title: "Tests beside the log-rank",
    columns: [
      { id: "test", label: "Test" },
      { id: "statistic", label: "Statistic", align: "end" },
      { id: "p", label: "p", align: "end" },
      { id: "adjusted", label: "p adjusted for the pairs", align: "end" },
    ],
    rows: [
      testRow("Crude risk in all groups (Gray)", gray, (test) => test.chiSquare),
      ...(weighted === undefined
        ? []
        : [
            testRow(
              `Log-rank weighted ${weightingWords(facts.plan.weighting ?? "equal")}, ${clusterWords(facts)}`,
              weighted,
              (test) => test.chiSquare,
            ),
          ]),
      ...(trend === undefined
        ? []
        : [testRow(`Trend along the groups (z), ${clusterWords(facts)}`, trend, (test) => test.z)]),
      ...pairs.map(({ groups, test, adjustedP }) =>
        testRow(
          `Log-rank of ${groups.join(" and ")}, ${clusterWords(facts)}`,
          test,
          (one) => one.chiSquare,
          adjustedP,
        ),
      ),
    ],
    notes: [
      `Gray's test compares crude risks; deaths alone can cause a difference, and it takes every ${facts.words.unit.one} as independent. The log-rank of the cause itself stands under “The groups compared”.`,
      ...(pairs.length > 0 ? ["Pairs: each on its own rows, p adjusted by Holm's method."] : []),
    ],
    settings: {
      ...(gray.computed ? { gray: gray.settings } : {}),
      ...(weighted?.computed ? { weighted: weighted.settings } : {}),
      ...(trend?.computed ? { trend: trend.settings } : {}),
    },
  };
}

function testRow<Test extends { readonly p: number }>(
  label: string,
  test: Answer<Test>,
  statistic: (test: Test) => number,
  adjustedP?: number | null,
): TableRow {
  if (!test.computed) return { label, cells: [noCell(test), textCell(""), textCell("")] };
  return {
    label,
    cells: [
      { kind: "number", value: statistic(test), decimals: 3, restsOn: [] },
      { kind: "pValue", p: test.p, restsOn: [] },
      adjustedP === undefined || adjustedP === null
        ? textCell("")
        : { kind: "pValue", p: adjustedP, restsOn: [] },
    ],
  };
}

const WEIGHTING_WORDS = {
  equal: "alike",
  atRisk: "by the number at risk (Gehan–Breslow)",
  rootAtRisk: "by the root of the number at risk (Tarone–Ware)",
  survival: "by survival (Peto–Peto)",
} as const;

function weightingWords(weighting: LogRankWeighting): string {
  if (typeof weighting === "string") return WEIGHTING_WORDS[weighting];
  return `towards early (${weighting.early}) and late (${weighting.late}) differences (Fleming–Harrington)`;
}
