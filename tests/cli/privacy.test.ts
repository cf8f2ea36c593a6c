import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "../..");
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "mantle-privacy-"));
  // The demo's first rows with a column that the dictionary does not know.
  const lines = readFileSync(join(ROOT, "data/demo/cases.csv"), "utf8").split("\n").slice(0, 200);
  const named = lines.map((line, at) => `${line},${at === 0 ? "extra" : at === 7 ? "Dr. Tosen" : ""}`);
  writeFileSync(join(folder, "cases.csv"), `${named.join("\n")}\n`);
  writeFileSync(join(folder, "datapackage.json"), readFileSync(join(ROOT, "data/demo/datapackage.json")));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function mantle(...args: string[]) {
  return spawnSync(process.execPath, [join(ROOT, "src/cli/mantle.js"), ...args], {
    cwd: ROOT,
    encoding: "utf8",
  });
}

describe("an export that names a person", () => {
  it("fails mantle check, which shows the column and the count and not the name", () => {
    const { status, stdout } = mantle("check", folder);
    expect(status).toBe(1);
    expect(stdout).toMatch(/error {2}column 41 of the file holds names of persons by its values \(1 row\)/);
    expect(stdout).toContain("note  179 of 199 rows are the only one with their age_years, sex, centre");
    expect(stdout).not.toContain("Tosen");
  });

  it("stops mantle report before anything is analysed or written", () => {
    const out = join(folder, "reports");
    const run = mantle("report", "notebooks/tourniquet-and-loosening.ts", "--export", folder, "--out", out);
    expect(run.status).toBe(2);
    expect(run.stderr).toMatch(/was not analysed:\n {2}column 41 of the file holds names of persons/);
    expect(run.stderr).not.toContain("Tosen");
    expect(existsSync(out)).toBe(false);
  });
});
