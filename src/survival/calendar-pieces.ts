const MILLISECONDS_PER_DAY = 86_400_000;

/** Completed years of age and calendar year, with the days of a stay spent at both. */
export type PieceVisitor = (age: number, year: number, days: number) => void;

/**
 * Splits a stay at birthdays and at New Year, in whole days of the calendar.
 *
 * A stay is (entry, exit]: its days are the dates entry + 1 to exit after the start, so that an event on a date falls into
 * the piece that holds that date. A birthday and New Year's Day begin the new piece. Who was born on 29 February has the
 * birthday on 1 March in a common year.
 */
export function calendarPieces(
  startDay: number,
  birthDay: number,
  entry: number,
  exit: number,
  visit: PieceVisitor,
): void {
  const birth = new Date(birthDay * MILLISECONDS_PER_DAY);
  const [birthYear, month, date] = [birth.getUTCFullYear(), birth.getUTCMonth(), birth.getUTCDate()];
  const last = startDay + exit;
  let day = startDay + entry + 1;
  let year = new Date(day * MILLISECONDS_PER_DAY).getUTCFullYear();
  while (day <= last) {
    const newYear = dayOf(year + 1, 0, 1);
    const birthday = dayOf(year, month, date);
    const hadBirthday = day >= birthday;
    const end = Math.min(last, newYear - 1, hadBirthday ? newYear - 1 : birthday - 1);
    visit(year - birthYear - (hadBirthday ? 0 : 1), year, end - day + 1);
    day = end + 1;
    if (day === newYear) year += 1;
  }
}

// 29 February of a common year rolls over to 1 March.
function dayOf(year: number, month: number, date: number): number {
  return Date.UTC(year, month, date) / MILLISECONDS_PER_DAY;
}
