import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "../..");
const folder = mkdtempSync(join(tmpdir(), "mantle-adherence-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function adherence(...args: string[]) {
  const out = join(folder, "what is done");
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [join(ROOT, "src/cli/mantle.js"), "adherence", ...args, "--out", out],
    { cwd: ROOT, encoding: "utf8", env: { ...process.env, NO_COLOR: "1" } },
  );
  return { status, stdout, stderr, out };
}

describe("mantle adherence", () => {
  it("prints every step in 100 columns and writes the page, from a descriptor alone", () => {
    const asked = ["--at-least", "pulsedLavage=85", "stillUntilSet=80", "--at-most", "tourniquet=70"];
    const { status, stdout, stderr, out } = adherence("data/demo", ...asked, "--change", "2016-01-01");
    expect(stderr).toBe("");
    expect(status).toBe(0);
    const lines = stdout.trimEnd().split("\n");
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(100);
    expect(stdout).toMatch(
      /^tourniquet +61\.9 % \(60\.9 to 63\.0\) +at most 70 % +standard reached, whatever was not$/m,
    );
    expect(stdout).toMatch(/^pulsed lavage .* at least 85 % +reached where it was written down;$/m);
    const results = JSON.parse(readFileSync(join(out, "results.json"), "utf8"));
    expect(results.id).toBe("what-is-done");
    expect(results.plan.standards).toHaveLength(3);
    expect(existsSync(join(out, "figures/before-and-after.svg"))).toBe(true);
  });

  it("says what is wrong and writes nothing", () => {
    const { status, stdout, stderr, out } = adherence("data/mgus2", "--out", join(folder, "none"));
    expect(stdout).toBe("");
    expect(stderr).toMatch(
      /records no technique step, so there is nothing to look at; give the fields roles/,
    );
    expect(status).not.toBe(0);
    expect(existsSync(join(out, "../none"))).toBe(false);
  });
});
