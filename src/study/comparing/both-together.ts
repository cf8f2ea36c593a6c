import { isRecord } from "../../base/is-record.ts";
import { givenByBoth } from "../../disclosure/held/given-by-both.ts";
import { type HeldReport, readHeldReport } from "../held-reports/held-report.ts";
import { resultsRecord } from "../making/results-record.ts";
import type { ReportFolder } from "./compare-reports.ts";

/** More places than these help nobody. */
const MOST_PLACES = 8;

/**
 * What readers of both reports would get below the threshold of their audience: how many numbers and where, never which.
 *
 * Nothing is said of analysts' copies, whose readers see every count, and of reports that do not say what their counts are.
 */
export function bothTogether(first: ReportFolder, second: ReportFolder): readonly string[] {
  const [before, after] = [textOf(first), textOf(second)];
  if (before === after || !areRelated(before, after)) return [];
  const [one, two] = [before, after].map(readHeldReport);
  if (one === undefined || two === undefined) return [];
  const given = givenByBoth(one, two).filter(({ key }) => one.id === two.id || isSamePlace(key, one, two));
  if (given.length === 0) return [];
  const places = [...new Set(given.flatMap(({ where }) => where ?? []))];
  const least = Math.min(one.threshold, two.threshold);
  const more = places.length - MOST_PLACES;
  return [
    `Do not give both to the same readers: ${given.length} ${given.length === 1 ? "number" : "numbers"} from 1 to below ${least} would follow from the two.`,
    ...places.slice(0, MOST_PLACES).map((place) => `  ${place}`),
    ...(more > 0 ? [`  … and ${more} places more`] : []),
    "  Make the later one with --readers-hold and the folder of the earlier.",
  ];
}

/** In another question the same name may stand for the step of that question: only what stands in the same place counts. */
function isSamePlace(key: string, ...reports: readonly HeldReport[]): boolean {
  const [one, two] = reports.map(({ told }) => told.counts.find((count) => count.key === key)?.where);
  return one === two;
}

function textOf(folder: ReportFolder): string {
  return new TextDecoder().decode(folder.get("results.json"));
}

/** One question twice, or two of one export: what else has the same name counts other people. */
function areRelated(first: string, second: string): boolean {
  const [one, two] = [first, second].map((text) => {
    const record = resultsRecord(text);
    return { id: record?.id, source: isRecord(record?.hashes) ? record.hashes.export : undefined };
  });
  return one?.id === two?.id || (one?.source !== undefined && one.source === two?.source);
}
