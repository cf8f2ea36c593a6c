import { ArgumentError } from "../base/errors.ts";
import { requirePositive } from "../numeric/argument-checks.ts";

/** How units come in, how long they are watched, and how they are lost. Years; hazards per year, constant. */
export interface Course {
  /** Units come in evenly over this time. 0: all at once. */
  readonly accrualYears: number;
  /** From the last unit in to the analysis. */
  readonly followUpYears: number;
  /** Hazard of leaving without the event: death, another event, moving away. Default 0. */
  readonly lossPerYear?: number;
}

/**
 * The share of units that will have had their event by the time of the analysis.
 *
 * Constant hazards of event and loss, even accrual. Source: Lachin and Foulkes 1986.
 *
 * @example
 * eventShare(0.003, { accrualYears: 0, followUpYears: 10 }); // 0.0296
 */
export function eventShare(hazardPerYear: number, course: Course): number {
  const { accrualYears, followUpYears, lossPerYear } = checkedCourse("eventShare", course);
  requirePositive("eventShare", "hazardPerYear", hazardPerYear);
  const leaving = hazardPerYear + lossPerYear;
  const gone = -Math.expm1(-leaving * followUpYears);
  return (hazardPerYear / leaving) * (gone + (1 - gone) * meanGone(leaving * accrualYears));
}

/** 1 − (1 − e⁻ˣ)/x: the share gone of those who came in evenly while a hazard added up to x. */
function meanGone(x: number): number {
  if (x > 0.5) return 1 + Math.expm1(-x) / x;
  // x/2! − x²/3! + …: the difference above loses every digit where hazards are tiny.
  let term = x / 2;
  let sum = 0;
  for (let factor = 3; Math.abs(term) > 1e-18 * sum; factor += 1) {
    sum += term;
    term *= -x / factor;
  }
  return sum;
}

/** The course with its default, refused where it is none. */
export function checkedCourse(where: string, course: Course): Required<Course> {
  const { accrualYears, followUpYears, lossPerYear = 0 } = course;
  for (const [name, value] of Object.entries({ accrualYears, followUpYears, lossPerYear })) {
    if (!Number.isFinite(value) || value < 0) {
      throw new ArgumentError(`${where}: ${name} must be a finite number from 0 up; received ${value}`);
    }
  }
  if (accrualYears + followUpYears === 0) {
    throw new ArgumentError(`${where}: accrualYears and followUpYears must not both be 0`);
  }
  return { accrualYears, followUpYears, lossPerYear };
}
