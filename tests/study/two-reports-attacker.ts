import type { ClearedCell, ClearedExhibit, ClearedExhibits } from "../../src/disclosure/cleared.ts";
import type { StudyRun } from "../../src/study/run.ts";
import { solveSums } from "../disclosure/attacker.ts";
import { knownEvents } from "./known-events.ts";
import { reportAttacker } from "./report-attacker.ts";

/** One of two reports that the same reader holds: the truth to judge by, and what was printed. */
export interface Printed {
  readonly run: StudyRun;
  readonly cleared: ClearedExhibits;
}

/**
 * What a reader of both reports gets below the threshold, each named; none of it uses the code under test.
 *
 * The reader solves every sum of each report, turns every estimate back into the counts it rests on, and subtracts whatever
 * both then tell under one name; takes whatever did not change to be known in both, and solves the sums of both together;
 * and subtracts the events that lines, tables and risks tell by the same time.
 */
export function takenFromBoth(first: Printed, second: Printed, threshold: number): string[] {
  const [one, two] = [solvedOf(first), solvedOf(second)];
  const isSmall = (units: number) => units !== 0 && Math.abs(units) < threshold;
  const subtracted = [...two.fixed].filter(
    (key) => one.fixed.has(key) && isSmall((two.truth.get(key) ?? 0) - (one.truth.get(key) ?? 0)),
  );
  return [
    ...subtracted.map((key) => `difference of ${key}`),
    ...unchanged(one, two).map((key) => `unchanged, ${key}`),
    ...byTime(first, second, isSmall),
  ];
}

type Solved = ReturnType<typeof reportAttacker> & { readonly fixed: ReadonlySet<string> };

const solved = new WeakMap<ClearedExhibits, Solved>();

/** A report is solved once, however often it is set beside another. */
function solvedOf({ run, cleared }: Printed): Solved {
  const known = solved.get(cleared);
  if (known !== undefined) return known;
  const attacker = reportAttacker(run, own(cleared));
  const found = { ...attacker, fixed: solveSums(attacker).fixed };
  solved.set(cleared, found);
  return found;
}

/** Without what the second report only repeats: its reader knows that from the first, and no more. */
function own(cleared: ClearedExhibits): ClearedExhibits {
  return { ...cleared, exhibits: cleared.exhibits.map(withoutRepeated) };
}

function withoutRepeated(exhibit: ClearedExhibits["exhibits"][number]): ClearedExhibits["exhibits"][number] {
  const replaced = JSON.parse(JSON.stringify(exhibit), (_key, value: unknown) =>
    isRepeated(value) ? { ...value, hidden: true } : value,
  ) as ClearedExhibit;
  const lines =
    replaced.kind === "curves"
      ? { ...replaced, curves: replaced.curves.filter((curve) => !curve.asBefore) }
      : replaced;
  // A test's own reading of a cleared exhibit; the brand is kept by the copy.
  return lines as typeof exhibit;
}

function isRepeated(value: unknown): value is ClearedCell {
  return typeof value === "object" && value !== null && "asBefore" in value && "hidden" in value;
}

/** Everything that neither truth moved, known if either report tells it: does a small count follow from both? */
function unchanged(one: Solved, two: Solved): string[] {
  const same = [...two.truth.keys()].filter((key) => one.truth.get(key) === two.truth.get(key));
  const isSame = new Set(same);
  const sums = [...one.sums, ...two.sums].filter((keys) => keys.every((key) => isSame.has(key)));
  const known = new Set(same.filter((key) => one.known.has(key) || two.known.has(key)));
  const truth = new Map(same.map((key) => [key, two.truth.get(key) ?? 0]));
  const { fixed } = solveSums({ truth, known, small: [], sums });
  return same.filter((key) => one.small.includes(key) && two.small.includes(key) && fixed.has(key));
}

/** Events told by the same time in both; where the groups are the same people, by any two times. */
function byTime(first: Printed, second: Printed, isSmall: (units: number) => boolean): string[] {
  return second.run.facts.groups.flatMap((group) => {
    const dots = [first, second].map((report) => eventsByTick(report, group));
    const [before, after] = dots as [Map<string, number>, Map<string, number>];
    const told = [...after].filter(([at, events]) => isSmall(events - (before.get(at) ?? events)));
    const people = [first, second].map(({ run }) =>
      JSON.stringify(
        run.exhibits
          .flatMap((one) => (one.kind === "curves" ? one.curves : []))
          .find(({ label }) => label === group),
      ),
    );
    const steps = people[0] === people[1] ? smallSteps(first, second, group, isSmall) : [];
    return [...told.map(([at]) => `events of ${group}, ${at}`), ...steps];
  });
}

function smallSteps(
  first: Printed,
  second: Printed,
  group: string,
  isSmall: (units: number) => boolean,
): string[] {
  const all = [first, second].flatMap(({ run, cleared }) => [...knownEvents(run, own(cleared), group)]);
  const sorted = [...new Set(all)].sort((a, b) => a - b);
  const steps = sorted.slice(1).map((events, at) => events - (sorted[at] ?? 0));
  return steps.some(isSmall) ? [`events of ${group} by any time: ${sorted.join(" ")}`] : [];
}

/** Points of the lines turned back into events: by the exhibit and the tick. */
function eventsByTick({ run, cleared }: Printed, group: string): Map<string, number> {
  const found = new Map<string, number>();
  for (const exhibit of own(cleared).exhibits) {
    const exact = run.exhibits.find(({ id }) => id === exhibit.id);
    if (exhibit.kind !== "curves" || exact?.kind !== "curves") continue;
    const line = exhibit.curves.find(({ label }) => label === group);
    const curve = exact.curves.find(({ label }) => label === group);
    if (line === undefined || curve === undefined) continue;
    for (const tick of [...line.time, line.drawnTo]) {
      const events = curve.time.reduce(
        (sum, time, at) => sum + (time <= tick ? (curve.eventsAt[at] ?? 0) : 0),
        0,
      );
      found.set(`${exhibit.id}, day ${tick}`, events);
    }
  }
  return found;
}
