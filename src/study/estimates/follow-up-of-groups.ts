import { type Answer, computed, notComputed } from "../../base/answer.ts";
import { yearsOfTicks } from "../../base/time-unit.ts";
import { completeness } from "../../survival/completeness.ts";
import { reverseFollowUp } from "../../survival/reverse-follow-up.ts";
import { type TimeReached, timeToFraction } from "../../survival/time-to-fraction.ts";
import { countUnits, type RowCodes } from "../../technique/row-codes.ts";
import type { StudyData } from "./estimate.ts";
import type { GroupFollowUp } from "./estimates.ts";
import { placedOn } from "./placed-on.ts";

/** How long each compared group was followed, how completely, and who was lost. */
export function followUpOfGroups(data: StudyData, persons: RowCodes): GroupFollowUp[] {
  const { compared, counts, followUp } = data;
  const { observations, rows } = compared;
  const { group, timeUnit } = observations;
  // Those compared are among those followed.
  const placed = placedOn(rows, followUp.rows);
  const curve = reverseFollowUp(counts);
  const quarters = [0.25, 0.5, 0.75].map((fraction) => timeToFraction(curve, fraction));
  const complete =
    followUp.possible === undefined ? undefined : completeness(observations, placed(followUp.possible));
  const lost = followUp.lost === undefined ? undefined : placed(followUp.lost);
  return group.labels.map((label, code) => {
    const rowsWith = (wanted: (at: number) => boolean) =>
      rows.filter((_row, at) => group.codes[at] === code && wanted(at));
    const ticks = counts.cells
      .filter((cell) => cell.group === code)
      .reduce((sum, cell) => sum + cell.ticksAtRisk, 0);
    const [lower, median, upper] = quarters.map((quarter) =>
      yearsReached(quarter.groups[code]?.time, timeUnit),
    );
    return {
      label,
      size: countUnits(
        rowsWith(() => true),
        persons,
      ),
      medianYears:
        median === undefined
          ? notComputed("not-reached", "fewer than half left by the end of observation")
          : computed({ median, lowerQuarter: lower ?? null, upperQuarter: upper ?? null }),
      completeness: complete?.groups[code]?.share ?? noDates,
      lost:
        lost === undefined
          ? noDates
          : computed(
              countUnits(
                rowsWith((at) => lost[at] === 1),
                persons,
              ),
            ),
      unitYears: yearsOfTicks(ticks, timeUnit),
    };
  });
}

const noDates = notComputed("durations-only", "needs dates of operation and a data cut");

function yearsReached(
  time: Answer<{ readonly estimate: TimeReached }> | undefined,
  timeUnit: StudyData["followUp"]["timeUnit"],
): number | undefined {
  return time?.computed && time.estimate.reached ? yearsOfTicks(time.estimate.tick, timeUnit) : undefined;
}
