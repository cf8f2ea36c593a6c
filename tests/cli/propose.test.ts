import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "../..");
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "mantle-propose-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function mantle(...args: string[]) {
  const command = [join(ROOT, "src/cli/mantle.js"), ...args];
  const { status, stdout, stderr } = spawnSync(process.execPath, command, { cwd: ROOT, encoding: "utf8" });
  return { status, stdout, stderr };
}

describe("mantle check on a table without a dictionary", () => {
  it("proposes one, says why and what is open, and writes it only where told", () => {
    const table = join(folder, "2015.csv");
    const out = join(folder, "datapackage.json");
    writeFileSync(table, "Case No.;OP date;BMI;Cave\nZq7Xw1;31.01.2015;27,5;x\nZq7Xw2;28.02.2015;30,0;y\n");
    const shown = mantle("check", table);
    expect(shown.status).toBe(0);
    expect(shown.stdout).toMatch(/2 rows read, 4 columns\. No dictionary was given; this one is proposed\./);
    expect(shown.stdout).toMatch(/OP date: operationDate, date %d\.%m\.%Y\n +the name says so/);
    expect(shown.stdout).toMatch(/study\.revisionCapture and study\.deathCapture: national/);
    expect(shown.stdout).not.toMatch(/Zq7Xw|31\.01/);
    expect(shown.stdout).not.toContain('"resources"');
    expect(shown.stdout.split('Left open ("?")')[1]).toMatch(
      new RegExp(
        `national.*\n  without a role: Cave; give each .*\n\nNothing was written: save .* with --propose ${out}, or print it with --json\\.\n$`,
        "s",
      ),
    );
    expect(existsSync(out)).toBe(false);

    const saved = mantle("check", folder, "--propose", out);
    expect(saved.status).toBe(0);
    expect(saved.stdout).toMatch(/\n\nWritten to .*datapackage\.json: replace each "\?" in it\.\n$/);
    expect(JSON.parse(readFileSync(out, "utf8")).resources[0].path).toBe("2015.csv");
    const open = mantle("check", folder);
    expect(open.status).toBe(2);
    expect(open.stderr).toMatch(
      /study\.invented: still open \("\?"\); write true where no row describes a real person/,
    );
    expect(open.stderr).toMatch(
      /study\.revisionCapture: .* write where revisions are seen: national, ownUnit, unknown\n/,
    );
  });

  it("never writes over a file or elsewhere than beside the table", () => {
    const table = join(folder, "2015.csv");
    expect(mantle("check", table, "--propose", table).stderr).toMatch(/exists already/);
    expect(mantle("check", table, "--propose", join(tmpdir(), "elsewhere.json")).stderr).toContain(
      `beside its table; write it there, with --propose ${join(folder, "datapackage.json")}`,
    );
  });
});
