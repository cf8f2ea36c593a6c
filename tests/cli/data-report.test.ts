import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "../..");
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "mantle-check-report-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function check(...args: string[]) {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [join(ROOT, "src/cli/mantle.js"), "check", ...args],
    { cwd: ROOT, encoding: "utf8", env: { ...process.env, NO_COLOR: "1" } },
  );
  return { status, stdout, stderr };
}

describe("mantle check --report", () => {
  it("prints what check prints, and writes the page beside it", () => {
    const out = join(folder, "page");
    const { status, stdout, stderr } = check("data/mgus2", "--report", out);
    expect(stderr).toBe("");
    expect(status).toBe(0);
    expect(stdout).toBe(`${check("data/mgus2").stdout}${join(out, "index.html")}\n`);
    const page = readFileSync(join(out, "index.html"), "utf8");
    expect(page).toContain("What the checks of an export found");
    expect(page).not.toContain(ROOT);
    expect(existsSync(join(out, "tables", "findings.csv"))).toBe(true);
  });

  it("refuses an unknown reader, and a table that has no dictionary yet", () => {
    const out = join(folder, "none");
    expect(check("data/mgus2", "--report", out, "--audience", "everybody")).toMatchObject({ status: 2 });
    const table = join(folder, "cases.csv");
    writeFileSync(table, "case,age\nK1,70\n");
    const { status, stderr } = check(table, "--report", out);
    expect(status).toBe(2);
    expect(stderr).toContain("has no dictionary yet");
    expect(existsSync(out)).toBe(false);
  });
});
