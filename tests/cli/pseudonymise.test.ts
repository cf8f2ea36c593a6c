import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "../..");
const folder = mkdtempSync(join(tmpdir(), "mantle-pseudonymise-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const key = join(folder, "key");
writeFileSync(key, "0123456789abcdef0123456789abcdef\n");

function pseudonymise(...args: string[]) {
  const command = [join(ROOT, "src/cli/mantle.js"), "pseudonymise", "data/demo", ...args];
  return spawnSync(process.execPath, command, { cwd: ROOT, encoding: "utf8" });
}

describe("mantle pseudonymise", () => {
  it("writes data, dictionary and log", () => {
    const out = join(folder, "out");
    const { status, stdout } = pseudonymise("--key", key, "--out", out);
    expect(status).toBe(0);
    expect(stdout).toBe(`${join(out, "datapackage.json")}\n`);
    expect(readdirSync(out).sort()).toEqual(["cases.csv", "datapackage.json", "pseudonymise-log.json"]);
  });

  it.each([
    ["a key inside the folder of the data", ["--key", "data/demo/cases.csv"], /the key lies inside/],
    ["a key that is not there", ["--key", "nosuch"], /^nosuch: is not there; check the path of the key/],
    ["a treatment of dates nobody knows", ["--key", key, "--dates", "shift"], /follow-up, month, year/],
    [
      "the export's own folder",
      ["--key", key, "--out", "data/demo"],
      /holds files that this command did not write/,
    ],
  ])("refuses %s and writes nothing", (_name, args, message) => {
    const out = join(folder, "refused");
    const { status, stderr } = pseudonymise(...(args.includes("--out") ? args : [...args, "--out", out]));
    expect(status).toBe(2);
    expect(stderr).toMatch(message);
    expect(existsSync(out)).toBe(false);
  });
});
