import { DEATH_HAZARD } from "./planted-truth.ts";

/**
 * Years from a patient's first operation to death.
 *
 * `amount` is the cumulative hazard at which this patient dies, a standard exponential number. The hazard
 * grows with age and is lowered for one year after each operation: those who are operated are fit for it.
 */
export function yearsToDeath(amount: number, ageAtFirst: number, yearsToSecond?: number): number {
  const { perYearAt65, perYearOfAge, inFirstYear } = DEATH_HAZARD;
  const scale = (perYearAt65 / perYearOfAge) * Math.exp(perYearOfAge * (ageAtFirst - 65));
  let left = amount / scale;
  let from = 0;
  for (const { until, lowered } of stretches(yearsToSecond)) {
    const factor = lowered ? inFirstYear : 1;
    // Over a stretch the cumulative hazard is factor·scale·(exp(b·until) − exp(b·from)).
    const start = Math.exp(perYearOfAge * from);
    const length = factor * (Math.exp(perYearOfAge * until) - start);
    if (left <= length) return Math.log(start + left / factor) / perYearOfAge;
    left -= length;
    from = until;
  }
  return from;
}

const LAST_YEAR = 120;

function stretches(yearsToSecond = 0): readonly { until: number; lowered: boolean }[] {
  const end = { until: LAST_YEAR, lowered: false };
  if (yearsToSecond <= 1) return [{ until: yearsToSecond + 1, lowered: true }, end];
  return [
    { until: 1, lowered: true },
    { until: yearsToSecond, lowered: false },
    { until: yearsToSecond + 1, lowered: true },
    end,
  ];
}
