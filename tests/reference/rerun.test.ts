import { execFile, spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { ReferenceRecord } from "./reference-files.ts";
import { referenceRecords } from "./reference-files.ts";
import { agrees, type Tolerance, widestTolerance } from "./tolerance.ts";

const SCRIPTS = join(import.meta.dirname, "scripts");
const VALUES = join(import.meta.dirname, "values");
const PACKAGES = ["survival", "cmprsk", "jsonlite"];
const INSTALL =
  "install r-base-core, r-cran-survival, r-cran-cmprsk and r-cran-jsonlite (Debian), then run npm run test:reference again";
/** From 60-digit arithmetic in Python (17_truth.py), not from R; the unit tests compare with them. */
const NOT_FROM_R = ["17_special_functions"];
/** Committed numbers that a rerun leaves out, and why. */
const LEFT_OUT: Readonly<Record<string, string>> = {
  seEtmGreenwood: "needs the package etm; seDeltaGreenwood is the same number",
};

const topics = readdirSync(SCRIPTS)
  .filter((name) => /^\d+_\w+\.R$/.test(name))
  .map((name) => name.replace(/\.R$/, ""));

describe("the reference values, computed again by the scripts kept beside them", () => {
  let folder = "";

  beforeAll(() => {
    requireR();
    folder = mkdtempSync(join(tmpdir(), "reference-"));
  });
  afterAll(() => {
    if (folder !== "") rmSync(folder, { recursive: true });
  });

  it("have a script each, apart from those that are not from R", () => {
    const committed = readdirSync(VALUES).map((name) => name.replace(/\.json$/, ""));
    expect(topics.concat(NOT_FROM_R).sort()).toEqual(committed.sort());
  });

  it.each(topics)("are met by a new run of %s", async (topic) => {
    await promisify(execFile)("Rscript", ["--vanilla", join(SCRIPTS, `${topic}.R`), folder]);
    const { records } = JSON.parse(readFileSync(join(folder, `${topic}.json`), "utf8")) as {
      records: ReferenceRecord[];
    };
    const again = new Map(records.map((record) => [record.id, record]));
    const committed = referenceRecords(topic);
    expect([...again.keys()]).toEqual(committed.map(({ id }) => id));
    expect(committed.flatMap((record) => differences(record, again.get(record.id)))).toEqual([]);
  });
});

function requireR(): void {
  const wanted = PACKAGES.map((name) => `library(${name})`).join("; ");
  const { error, status, stderr } = spawnSync("Rscript", ["--vanilla", "-e", wanted], { encoding: "utf8" });
  if (error !== undefined) throw new Error(`Rscript could not be started: ${INSTALL}`);
  if (status !== 0) throw new Error(`R lacks one of ${PACKAGES.join(", ")}: ${INSTALL}\n${stderr}`);
}

function differences(committed: ReferenceRecord, again: ReferenceRecord | undefined): string[] {
  const tolerance = widestTolerance(committed);
  return (["input", "expected", "published"] as const).flatMap((part) =>
    compare(`${committed.id}, ${part}`, committed[part], again?.[part], tolerance),
  );
}

/** What is committed must be there again; numbers within the tolerance, all else alike. */
function compare(path: string, committed: unknown, again: unknown, tolerance: Tolerance): string[] {
  if (typeof committed === "number" && typeof again === "number") {
    return agrees(again, committed, tolerance) ? [] : [`${path}: ${again}, committed ${committed}`];
  }
  if (typeof committed !== "object" || committed === null) {
    return committed === again ? [] : [`${path}: ${String(again)}, committed ${String(committed)}`];
  }
  if (typeof again !== "object" || again === null) return [`${path}: missing`];
  const [before, after] = [Object.entries(committed), new Map(Object.entries(again))];
  const kept = before.filter(([name]) => LEFT_OUT[name] === undefined);
  const count = kept.length === after.size ? [] : [`${path}: ${after.size} parts, committed ${kept.length}`];
  return count.concat(
    kept.flatMap(([name, value]) => compare(`${path}, ${name}`, value, after.get(name), tolerance)),
  );
}
