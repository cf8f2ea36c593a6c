import { isPresent } from "../base/column.ts";
import { codeMeanings } from "./code-meanings.ts";
import { presentWithout, type RowRule } from "./rule-tests.ts";

/** What is said of a revision: when, why, which side, and what was loose. */
export const REVISION_RULES: readonly RowRule[] = [
  {
    code: "reason-without-revision-date",
    severity: "error",
    at: "revisionReason",
    reads: ["revisionDate"],
    test: (reason, [date]) => date && presentWithout(reason, date),
  },
  {
    code: "revision-without-reason",
    severity: "warning",
    at: "revisionReason",
    reads: ["revisionDate"],
    test: (reason, [date]) => date && ((row) => isPresent(date, row) && !isPresent(reason, row)),
  },
  {
    code: "component-without-revision-date",
    severity: "warning",
    at: "loosenedComponent",
    reads: ["revisionDate"],
    test: (component, [date]) => date && presentWithout(component, date),
  },
  {
    code: "revision-without-operation",
    severity: "error",
    at: "revisionDate",
    reads: ["operationDate"],
    test: (revision, [operation]) => operation && presentWithout(revision, operation),
  },
  {
    code: "side-of-revision-conflicts",
    severity: "error",
    at: "revisionSide",
    reads: ["side"],
    test: (revised, [operated]) => {
      if (revised.kind !== "code" || operated?.kind !== "code") return undefined;
      // Two fields may number their words differently: the words are compared, not their numbers.
      const [words, others] = [revised, operated].map(({ codes }) =>
        codes.map((code) => code.trim().toLowerCase()),
      );
      return (row) =>
        isPresent(revised, row) &&
        isPresent(operated, row) &&
        words?.[revised.values[row]!] !== others?.[operated.values[row]!];
    },
  },
  {
    code: "component-without-loosening",
    severity: "warning",
    at: "loosenedComponent",
    reads: ["revisionReason"],
    test: (component, [reason], cases) => {
      if (reason?.kind !== "code") return undefined;
      const loose = codeMeanings(cases, reason).map((meaning) => meaning.reason === "loosening");
      // A list that cannot say "loosening" does not contradict a component.
      if (!loose.includes(true)) return undefined;
      const { tickedReasons: ticked } = cases;
      const sets = ticked?.sets.map((words) => words.some((word) => loose[reason.codes.indexOf(word)]));
      const isLoose = (row: number) =>
        ticked === undefined ? loose[reason.values[row]!] : sets?.[ticked.setOfRow[row]!];
      return (row) => isPresent(component, row) && isPresent(reason, row) && isLoose(row) === false;
    },
  },
];
