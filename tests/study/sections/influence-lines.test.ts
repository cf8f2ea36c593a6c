import { describe, expect, it } from "vitest";
import { firstOver } from "../../../src/study/estimates/first-over.ts";
import { runStudy } from "../../../src/study/run.ts";
import { influenceLinesExhibit } from "../../../src/study/sections/influence-lines.ts";
import { smallStudy } from "../small-export.ts";

describe("influenceLinesExhibit()", () => {
  it("moves the ratio by what each surgeon adds, from the lowest to the highest, and names nobody", async () => {
    const { study, source } = smallStudy({ clusters: "surgeon" }, { knees: 4000, surgeons: 9 });
    const { estimates, facts } = await runStudy(study, source);
    const { adjusted: found } = estimates;
    const [exhibit] = influenceLinesExhibit(found, facts);
    const [without, all] = exhibit?.lines ?? [];
    if (without === undefined || all === undefined || !found.alone.computed)
      throw new Error("lines were expected");
    const ratio = firstOver(found.alone.fit.columns, found.groupTerm, facts.groups, 1);
    if (!ratio.computed) throw new Error("a ratio was expected");
    expect(all.y).toEqual([ratio.ratio, ratio.ratio]);
    expect(without.y).toHaveLength(9);
    expect([...without.y].sort((a, b) => a - b)).toEqual(without.y);
    // identity: shares of the score add up to 0 at the estimate, so the logs lie around that of everybody
    const logs = without.y.map((one) => Math.log(one) - Math.log(ratio.ratio));
    expect(logs.reduce((sum, one) => sum + one, 0)).toBeCloseTo(0, 6);
    expect(JSON.stringify(exhibit)).not.toMatch(/S\d\d/);
  });

  it("is left out where every patient is a unit", async () => {
    const { study, source } = smallStudy({ clusters: "patient" }, { knees: 4000 });
    const { estimates, facts } = await runStudy(study, source);
    expect(influenceLinesExhibit(estimates.adjusted, facts)).toEqual([]);
  });
});
