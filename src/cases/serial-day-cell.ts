import { type CellParser, digitAt } from "./value-cell.ts";

/** The years from which spreadsheets count days. */
export const SERIAL_DATE_YEARS = [1900, 1904] as const;
export type SerialDateYear = (typeof SERIAL_DATE_YEARS)[number];

/** Day number (from 1970-01-01) of serial number 0. */
const DAY_OF_ZERO: Readonly<Record<SerialDateYear, number>> = { 1900: -25_569, 1904: -24_107 };
/** Spreadsheets count a 29 February 1900 that never was: only from the next day on is their count the calendar's. */
const FIRST_TRUE_SERIAL: Readonly<Record<SerialDateYear, number>> = { 1900: 61, 1904: 0 };
/** 31 December 9999. */
const LAST_SERIAL = 2_958_465;
const POINT = 0x2e;

/** The day that a spreadsheet means by a serial number, or undefined where that is no day of the calendar. */
export function dayOfSerial(serial: number, countedFrom: SerialDateYear): number | undefined {
  const isDay = Number.isInteger(serial) && serial >= FIRST_TRUE_SERIAL[countedFrom] && serial <= LAST_SERIAL;
  return isDay ? serial + DAY_OF_ZERO[countedFrom] : undefined;
}

/** Reads texts such as 43466 and 40968.0; a time of day behind the point is no date. */
export function serialDayParser(countedFrom: SerialDateYear): CellParser {
  return (bytes, start, end) => {
    let serial = 0;
    let at = start;
    for (; at < end && digitAt(bytes, at) >= 0; at += 1) serial = 10 * serial + digitAt(bytes, at);
    if (at === start) return undefined;
    if (at < end && (bytes[at] !== POINT || at + 1 === end)) return undefined;
    for (at += 1; at < end; at += 1) if (digitAt(bytes, at) !== 0) return undefined;
    return dayOfSerial(serial, countedFrom);
  };
}
