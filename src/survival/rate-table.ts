import { ArgumentError } from "../base/errors.ts";

/** Rate of an event for one sex over ages and calendar years; the ends belong to it. */
export interface RateBand {
  readonly sex: string;
  /** Completed years of age. */
  readonly fromAge: number;
  /** Left out: this age and over. */
  readonly toAge?: number;
  readonly fromYear: number;
  readonly toYear: number;
  /** Events per 100 unit-years. */
  readonly per100: number;
}

/** Place of every combination of sex, age and year, and its rate. */
export interface RateTable {
  readonly size: number;
  /** −1 for an age or year outside what the table spans. */
  readonly place: (sex: number, age: number, year: number) => number;
  /** Events per 100 unit-years by place; NaN where the table has no rate. */
  readonly per100: Float64Array;
  readonly cellAt: (place: number) => { readonly sex: number; readonly age: number; readonly year: number };
}

export const OLDEST = 130;
const MOST_YEARS = 300;

/** A table by single ages and years from bands; refuses bands that are no bands, and two rates for one cell. */
export function rateTable(where: string, bands: readonly RateBand[], sexes: readonly string[]): RateTable {
  bands.forEach((band, at) => {
    const fault = faultOf(band);
    if (fault !== undefined) throw new ArgumentError(`${where}: rate ${at + 1} of the table: ${fault}`);
  });
  const ages = OLDEST + 1;
  const firstYear = bands.reduce((first, { fromYear }) => Math.min(first, fromYear), bands[0]?.fromYear ?? 0);
  const lastYear = bands.reduce((last, { toYear }) => Math.max(last, toYear), firstYear);
  const years = lastYear - firstYear + 1;
  if (years > MOST_YEARS) throw new ArgumentError(`${where}: the table spans more than ${MOST_YEARS} years`);
  const size = sexes.length * ages * years;
  const place = (sex: number, age: number, year: number) =>
    age < 0 || age > OLDEST || year < firstYear || year > lastYear
      ? -1
      : (sex * ages + age) * years + year - firstYear;
  const per100 = new Float64Array(size).fill(Number.NaN);
  bands.forEach((band, at) => {
    const sex = sexes.indexOf(band.sex);
    // A sex that no row has may stand in the table.
    if (sex < 0) return;
    for (let age = band.fromAge; age <= (band.toAge ?? OLDEST); age += 1) {
      for (let year = band.fromYear; year <= band.toYear; year += 1) {
        const cell = place(sex, age, year);
        if (!Number.isNaN(per100[cell])) {
          throw new ArgumentError(
            `${where}: rate ${at + 1} of the table overlaps an earlier one at age ${age} in ${year}`,
          );
        }
        per100[cell] = band.per100;
      }
    }
  });
  const cellAt = (cell: number) => ({
    sex: Math.floor(cell / years / ages),
    age: Math.floor(cell / years) % ages,
    year: (cell % years) + firstYear,
  });
  return { size, place, per100, cellAt };
}

function faultOf({ fromAge, toAge = OLDEST, fromYear, toYear, per100 }: RateBand): string | undefined {
  if (![fromAge, toAge].every((age) => Number.isInteger(age) && age >= 0 && age <= OLDEST) || fromAge > toAge)
    return `ages must be whole years from 0 to ${OLDEST}, in order`;
  if (![fromYear, toYear].every(Number.isSafeInteger) || fromYear > toYear)
    return "calendar years must be whole and in order";
  // Written so that NaN fails as well.
  if (!(per100 >= 0 && per100 < Number.POSITIVE_INFINITY)) return "per100 must be a finite number from 0 up";
  return undefined;
}
