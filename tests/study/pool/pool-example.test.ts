import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { poolCounts } from "../../../src/study/pool/pool-counts.ts";
import { CENTRES, countedSource } from "./pool-sources.ts";

const FOLDER = "../../../data/counts";
const path = (centre: string, file: string) =>
  new URL(`${FOLDER}/centre-${centre.toLowerCase()}/${file}`, import.meta.url).pathname;

describe("data/counts", () => {
  it.each(CENTRES)("holds what the query makes of the demo export in centre %s", async (centre) => {
    const { csv, descriptor } = await countedSource(`centre = '${centre}'`, {
      monthsFromDays: true,
      descriptor: { title: `Invented centre ${centre}` },
    });
    await expect(csv).toMatchFileSnapshot(path(centre, "counts.csv"));
    await expect(`${JSON.stringify(descriptor, null, 2)}\n`).toMatchFileSnapshot(path(centre, "counts.json"));
  });

  it("can be added, and says that it is invented", async () => {
    const { files, counts } = poolCounts(CENTRES.map((centre) => path(centre, "counts.json")));
    expect(files.every(({ descriptor }) => descriptor.invented && descriptor.stamp !== undefined)).toBe(true);
    expect(counts.timeUnit.word).toBe("month");
    expect(readFileSync(path("C1", "counts.csv"), "utf8").split("\n")[0]).toBe(
      "group,time,at_risk,loosenings,other_revisions,deaths,censored,entered",
    );
  });
});
