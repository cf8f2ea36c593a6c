import { describe, expect, it } from "vitest";
import { randomStreams } from "../../src/base/random-streams.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import { curve, curveExhibit, type Day } from "./exhibits.ts";

const SEED = 77;
const YEARS = [1, 2, 3, 4];
const ticksOf = (year: number) => Math.floor(year * 365.25);

describe("what results.json says of a rounded number at risk", () => {
  it.each(["committee", "external"] as const)("holds the true number, for %s readers", (audience) => {
    const random = randomStreams(SEED).stream(audience);
    let ranges = 0;
    for (let draw = 0; draw < 60; draw++) {
      const days = Array.from(
        { length: 30 },
        (_, at): Day => [20 + 50 * at, random.below(3), random.below(3)],
      );
      const units = 150 + random.below(60);
      const { told } = disclose(
        [curveExhibit([curve("loosening/x", units, days)], { years: [0, ...YEARS] })],
        audience,
      );
      for (const year of YEARS) {
        const found = told?.counts.find(({ key }) => key === `at risk/group/x/at:${year}`);
        if (found?.low === undefined || found.high === undefined) continue;
        const gone = days.filter(([day]) => day <= ticksOf(year)).reduce((sum, [, a, b]) => sum + a + b, 0);
        expect(found.low, `draw ${draw}, year ${year}`).toBeLessThanOrEqual(units - gone);
        expect(found.high, `draw ${draw}, year ${year}`).toBeGreaterThanOrEqual(units - gone);
        if (found.low < found.high) ranges += 1;
      }
    }
    expect(ranges).toBeGreaterThan(10);
  });
});
