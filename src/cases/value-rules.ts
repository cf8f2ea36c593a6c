import { caseFields } from "./descriptor-rules.ts";
import { missing, outside, type RowRule } from "./rule-tests.ts";

const MOST_YEARS = 60;
const PER_YEAR: Readonly<Record<string, number>> = { d: 365.25, mo: 12, a: 1 };

/** Amounts that cannot be, or should be looked at. */
export const VALUE_RULES: readonly RowRule[] = [
  outside("age-impossible", "ageYears", 0, 120),
  outside("age-unusual", "ageYears", 18, 105, "warning", { low: 0, high: 120 }),
  outside("bmi-impossible", "bmi", 8, 120),
  outside("bmi-unusual", "bmi", 12, 70, "warning", { low: 8, high: 120 }),
  outside("asa-grade-impossible", "asaGrade", 1, 6),
];

/** Where follow-up is given as durations instead of dates. */
export const DURATION_RULES: readonly RowRule[] = [
  missing("follow-up-missing", "followUpTime"),
  missing("status-missing", "status"),
  {
    code: "follow-up-negative",
    severity: "error",
    at: "followUpTime",
    test: (time) =>
      time.kind === "number" ? (row) => time.missing[row] === 0 && time.values[row]! < 0 : undefined,
  },
  {
    code: "follow-up-impossible",
    severity: "error",
    at: "followUpTime",
    details: { years: MOST_YEARS },
    test: (time, _reads, cases) => {
      const unit = caseFields(cases.descriptor).find(({ name }) => name === time.field)?.unit ?? "d";
      const most = MOST_YEARS * (PER_YEAR[unit] ?? 1);
      return time.kind === "number"
        ? (row) => time.missing[row] === 0 && time.values[row]! > most
        : undefined;
    },
  },
];
