import { requiredDayNumber } from "../base/day-number.ts";
import { TIME_UNITS } from "../base/time-unit.ts";
import { yearsToDeath } from "./death-time.ts";
import {
  AGE_AT_OPERATION,
  BOTH_KNEES,
  EMIGRATION_PER_YEAR,
  FIRST_OPERATION_DATE,
  LAST_OPERATION_DATE,
} from "./planted-truth.ts";
import { exponentialDraws, normalDraws, placeAt, type RandomStreams } from "./random-draws.ts";
import { frailtyFactor, type Surgeons } from "./surgeons.ts";
import type { SyntheticSettings } from "./synthetic-options.ts";

/** Who was operated when, by whom, and how long they lived. */
export interface Operations {
  readonly knees: number;
  readonly patients: number;
  /** By knee. */
  readonly patient: Int32Array;
  readonly surgeon: Uint16Array;
  readonly right: Uint8Array;
  readonly operationDay: Int32Array;
  readonly ageYears: Float64Array;
  /** By patient. Days may lie beyond the data cut: they are the truth, not what the file shows. */
  readonly deathDay: Int32Array;
  readonly emigrationDay: Int32Array;
  readonly frailty: Float64Array;
}

const PER_YEAR = TIME_UNITS.day.perYear;
const FIRST_DAY = requiredDayNumber(FIRST_OPERATION_DATE, "FIRST_OPERATION_DATE");
const LAST_DAY = requiredDayNumber(LAST_OPERATION_DATE, "LAST_OPERATION_DATE");

/** Patients one after another, each with one knee or two, until the number of knees is reached. */
export function drawOperations(
  settings: SyntheticSettings,
  surgeons: Surgeons,
  streams: RandomStreams,
): Operations {
  const { knees } = settings;
  const columns = emptyColumns(knees);
  const drawPatient = patientDraws(settings, surgeons, streams);
  let row = 0;
  let patients = 0;
  for (; row < knees; patients++) {
    const drawn = drawPatient();
    const add = (surgeon: number, day: number, right: boolean) => {
      columns.patient[row] = patients;
      columns.surgeon[row] = surgeon;
      columns.right[row] = right ? 1 : 0;
      columns.operationDay[row] = day;
      columns.ageYears[row] = drawn.ageAtFirst + (day - drawn.firstDay) / PER_YEAR;
      row++;
    };
    add(drawn.surgeon, drawn.firstDay, drawn.firstRight);
    // The last patient may be left with one knee of two: the file holds exactly the knees asked for.
    if (drawn.second !== undefined && row < knees) {
      add(drawn.second.surgeon, drawn.second.day, !drawn.firstRight);
    }
    columns.deathDay[patients] = drawn.deathDay;
    columns.emigrationDay[patients] = drawn.emigrationDay;
    columns.frailty[patients] = drawn.frailty;
  }
  return {
    ...columns,
    knees,
    patients,
    deathDay: columns.deathDay.slice(0, patients),
    emigrationDay: columns.emigrationDay.slice(0, patients),
    frailty: columns.frailty.slice(0, patients),
  };
}

function emptyColumns(knees: number) {
  return {
    patient: new Int32Array(knees),
    surgeon: new Uint16Array(knees),
    right: new Uint8Array(knees),
    operationDay: new Int32Array(knees),
    ageYears: new Float64Array(knees),
    deathDay: new Int32Array(knees),
    emigrationDay: new Int32Array(knees),
    frailty: new Float64Array(knees),
  };
}

interface DrawnPatient {
  readonly firstDay: number;
  readonly ageAtFirst: number;
  readonly firstRight: boolean;
  readonly surgeon: number;
  readonly second: { readonly day: number; readonly surgeon: number } | undefined;
  readonly deathDay: number;
  readonly emigrationDay: number;
  readonly frailty: number;
}

/** Every stream moves once a patient, whether its number is used or not: no option shifts another's draws. */
function patientDraws(
  { allBilateral, planted }: SyntheticSettings,
  surgeons: Surgeons,
  streams: RandomStreams,
): () => DrawnPatient {
  const uniform = (name: string) => streams.stream(`patient.${name}`).uniform;
  const firstDayDraw = streams.stream("patient.firstDay");
  const age = ageDraws(streams);
  const [side, both, sameDay] = [uniform("side"), uniform("bothKnees"), uniform("sameDay")];
  const [operator, keepsSurgeon, colleague] = [
    uniform("surgeon"),
    uniform("keepsSurgeon"),
    uniform("colleague"),
  ];
  const gap = exponentialDraws(streams.stream("patient.gap"));
  const death = exponentialDraws(streams.stream("patient.death"));
  const emigration = exponentialDraws(streams.stream("patient.emigration"));
  const frailtyNormal = normalDraws(streams.stream("patient.frailty"));

  return () => {
    const firstDay = onWeekday(FIRST_DAY + firstDayDraw.below(LAST_DAY - FIRST_DAY + 1));
    const ageAtFirst = age();
    const planned = both() < BOTH_KNEES.planned;
    const onOneDay = sameDay() < BOTH_KNEES.sameDay;
    const stagedDays = BOTH_KNEES.shortestGapDays + Math.floor(BOTH_KNEES.meanFurtherGapDays * gap());
    const secondDay = onOneDay || allBilateral ? firstDay : onWeekday(firstDay + stagedDays);
    const deathAmount = death();
    const withoutSecond = dayAfter(firstDay, yearsToDeath(deathAmount, ageAtFirst));
    const hasSecond = (planned || allBilateral) && secondDay <= LAST_DAY && secondDay < withoutSecond;
    const surgeon = placeAt(surgeons.runningVolume, operator());
    const keeps = keepsSurgeon() < BOTH_KNEES.sameSurgeon || secondDay === firstDay;
    const other = colleagueOf(surgeon, surgeons, colleague());
    const yearsToSecond = (secondDay - firstDay) / PER_YEAR;
    return {
      firstDay,
      ageAtFirst,
      firstRight: side() < 0.5,
      surgeon,
      second: hasSecond ? { day: secondDay, surgeon: keeps ? surgeon : other } : undefined,
      deathDay: hasSecond
        ? dayAfter(firstDay, yearsToDeath(deathAmount, ageAtFirst, yearsToSecond))
        : withoutSecond,
      emigrationDay: dayAfter(hasSecond ? secondDay : firstDay, emigration() / EMIGRATION_PER_YEAR),
      frailty: frailtyFactor(frailtyNormal(), planted.patientFrailtySd),
    };
  };
}

function ageDraws(streams: RandomStreams): () => number {
  const { mean, sd, lowest, highest } = AGE_AT_OPERATION;
  const normal = normalDraws(streams.stream("patient.age"));
  return () => {
    for (;;) {
      const age = mean + sd * normal();
      if (age >= lowest && age <= highest) return age;
    }
  };
}

/** Whole days are counted up, so that nothing ends on the day of the operation. */
function dayAfter(day: number, years: number): number {
  return day + Math.max(1, Math.ceil(years * PER_YEAR));
}

function colleagueOf(surgeon: number, surgeons: Surgeons, u: number): number {
  const centre = surgeons.centre[surgeon] ?? 0;
  const inCentre = Math.ceil((surgeons.count - centre) / surgeons.centres);
  return centre + surgeons.centres * Math.floor(u * inCentre);
}

/** Planned operations are done from Monday to Friday: Saturday moves back a day, Sunday on. */
function onWeekday(day: number): number {
  // Day 0, 1970-01-01, was a Thursday.
  const weekday = (day + 4) % 7;
  if (weekday === 6) return day - 1;
  return weekday === 0 ? day + 1 : day;
}
