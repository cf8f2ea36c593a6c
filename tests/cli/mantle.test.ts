import { spawnSync } from "node:child_process";
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "../..");
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "mantle-cli-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Runs a command as a shell would, in another time zone and language than the test's. */
function mantle(...args: string[]) {
  const env = {
    ...process.env,
    TZ: "Pacific/Auckland",
    LANG: "tr_TR.UTF-8",
    LC_ALL: "tr_TR.UTF-8",
    NO_COLOR: "1",
  };
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(ROOT, "src/cli/mantle.js"), ...args], {
    cwd: ROOT,
    env,
    encoding: "utf8",
  });
  return { status, stdout, stderr };
}

const trace = /\n\s+at .*:\d+|node:internal|Error:/;

describe("mantle report", () => {
  it("makes the committed demo report again, byte for byte, and compare says so", () => {
    const made = mantle("report", "notebooks/tourniquet-and-loosening.ts", "--out", folder);
    expect(made.stderr).toBe("");
    expect(made.status).toBe(0);
    const same = mantle(
      "compare",
      "reports/tourniquet-and-loosening",
      join(folder, "tourniquet-and-loosening"),
    );
    expect(same.stdout).toBe("The reports are the same.\n");
    expect(same.status).toBe(0);
    expect(readdirSync(folder).sort()).toEqual(["index.html", "tourniquet-and-loosening"]);
  });

  it("says what differs, and exits with 1, when the audience differs", () => {
    const out = join(folder, "analysts");
    expect(
      mantle("report", "notebooks/tourniquet-and-loosening.ts", "--audience", "analyst", "--out", out).status,
    ).toBe(0);
    const other = mantle(
      "compare",
      "reports/tourniquet-and-loosening",
      join(out, "tourniquet-and-loosening"),
    );
    expect(other.status).toBe(1);
    expect(other.stdout).toMatch(/^The reports differ .*\nWhat went in\n {2}Audience: committee → analyst\n/);
  });

  it.each([
    ["a notebook that is not there", ["report", "notebooks/none.ts"], /notebooks\/none\.ts: cannot be read/],
    [
      "an audience nobody knows",
      ["report", "notebooks/tourniquet-and-loosening.ts", "--audience", "all"],
      /external, committee, analyst/,
    ],
    ["a file that is no notebook", ["report", "vitest.config.ts"], /export default defineStudy/],
    ["an option nobody knows", ["report", "--colour"], /--colour/],
    ["a report folder that is not there", ["compare", "reports/none", "reports"], /reports\/none/],
    ["a number that is none", ["synthesise", "--knees", "many"], /--knees.*whole number/],
    ["an export that is not there", ["check", "data/none"], /data\/none/],
  ])("refuses %s in words, with exit code 2 and no crash trace", (_what, args, words) => {
    const { status, stderr, stdout } = mantle(...args);
    expect(stderr + stdout).toMatch(words);
    expect(stderr).not.toMatch(trace);
    expect(status).toBe(2);
  });

  it.each([
    ["a syntax error", "\nexport default {;\n", /syntax-error\.ts, line 2: .*Expected identifier/],
    ["a throw", "const a: number = 1;\n\nthrow new Error('boom ' + a);", /throw\.ts, line 3: .*boom 1/],
    [
      "a name nobody exports",
      'import { none } from "mantle-outcomes";\nexport default none;',
      /line 1: .*none/,
    ],
    ["a file that is gone", 'import { x } from "./gone.ts";\nexport default x;', /gone\.ts: .*find module/],
    [
      "a wrong declaration",
      'import { defineReport } from "mantle-outcomes";\nexport default defineReport({ id: "A B" });',
      /declaration\.ts: defineReport: id must be/,
    ],
    [
      "exhibits that throw",
      'import { defineReport } from "mantle-outcomes";\nexport default defineReport({\n  id: "a",\n' +
        '  exhibits: () => {\n    throw new Error("own fault");\n  },\n});',
      /throw\.ts, line 5: .*own fault/,
    ],
  ])("names file and place of a notebook with %s, in a folder without package.json", (what, text, words) => {
    const path = join(folder, `${what.replaceAll(" ", "-")}.ts`);
    writeFileSync(path, text);
    const { status, stderr } = mantle("report", path, "--out", join(folder, "none"));
    expect(stderr).toMatch(words);
    expect(stderr).not.toMatch(trace);
    expect(status).toBe(2);
  });

  it("runs a notebook in a folder of CommonJS modules", () => {
    const project = join(folder, "project");
    mkdirSync(project);
    writeFileSync(join(project, "package.json"), '{ "type": "commonjs" }');
    const text =
      'import { defineReport } from "mantle-outcomes";\nexport default defineReport({ id: "small", title: "Small", ' +
      'subtitle: "Empty", exhibits: () => [], sections: () => [] });\n';
    writeFileSync(join(project, "small.ts"), text);
    const out = join(project, "reports");
    const made = mantle("report", join(project, "small.ts"), "--out", out);
    expect(made.stderr).toBe("");
    expect(made.status).toBe(0);
    writeFileSync(join(out, "small", "my-notes.txt"), "mine");
    const again = mantle("report", join(project, "small.ts"), "--out", out);
    expect(again.status).toBe(2);
    expect(again.stderr).toMatch(/holds my-notes\.txt/);
    const below = mantle("report", join(project, "small.ts"), "--out", join(project, "small.ts"));
    expect(below.status).toBe(2);
    expect(below.stderr).toMatch(/is a file and no folder/);
    expect(below.stderr).not.toMatch(trace);
  });

  it("leaves a folder alone that holds somebody else's files", () => {
    const mine = join(folder, "mine", "tourniquet-and-loosening");
    cpSync(join(ROOT, "data/mgus2"), mine, { recursive: true });
    const { status, stderr } = mantle(
      "report",
      "notebooks/tourniquet-and-loosening.ts",
      "--out",
      join(folder, "mine"),
    );
    expect(status).toBe(2);
    expect(stderr).toMatch(/did not write/);
    expect(readdirSync(mine).sort()).toEqual(["cases.csv", "datapackage.json"]);
  });
});

describe("the list of reports", () => {
  it("never takes the place of somebody else's page", () => {
    const own = join(folder, "site");
    mkdirSync(own);
    writeFileSync(join(own, "index.html"), "<p>mine</p>");
    const { status, stderr } = mantle("report", "notebooks/tourniquet-and-loosening.ts", "--out", own);
    expect(status).toBe(2);
    expect(stderr).toMatch(/index\.html: is a page that this command did not write/);
    expect(readFileSync(join(own, "index.html"), "utf8")).toBe("<p>mine</p>");
  });
});

describe("mantle check", () => {
  it("passes the demo export with its planted warnings", () => {
    const { status, stdout } = mantle("check", "data/demo");
    expect(status).toBe(0);
    expect(stdout).toMatch(/8000 rows read: 0 errors, 26 warnings/);
  });

  it("names row and field of an error, never the cell, and exits with 1", () => {
    const spoilt = join(folder, "spoilt");
    cpSync(join(ROOT, "data/demo"), spoilt, { recursive: true });
    const path = join(spoilt, "cases.csv");
    writeFileSync(path, readFileSync(path, "utf8").replace(",2022-11-17,75,", ",SECRET-DATE,75,"));
    const { status, stdout } = mantle("check", spoilt);
    expect(status).toBe(1);
    expect(stdout).toMatch(/row 1 \(line 2\), operation_date/);
    expect(stdout).not.toMatch(/SECRET/);
    const json = JSON.parse(mantle("check", spoilt, "--json").stdout);
    expect(json.groups[0].first[0]).toMatchObject({ row: 1, line: 2, field: "operation_date" });
  });
});

describe("mantle synthesise", () => {
  it("writes an export that passes its own check, and never over a real one", () => {
    const out = join(folder, "made");
    expect(mantle("synthesise", "--knees", "300", "--out", out).status).toBe(0);
    expect(mantle("check", out).stdout).toMatch(/300 rows read: 0 errors/);
    writeFileSync(join(out, "my-notes.txt"), "mine");
    expect(mantle("synthesise", "--knees", "300", "--out", out).stderr).toMatch(/holds my-notes\.txt/);
    const real = join(folder, "real");
    cpSync(join(ROOT, "data/mgus2"), real, { recursive: true });
    const refused = mantle("synthesise", "--knees", "300", "--out", real);
    expect(refused.status).toBe(2);
    expect(existsSync(join(real, "README.md"))).toBe(false);
  });
});

describe("every command", () => {
  it.each(["report", "check", "synthesise", "compare"])("%s explains itself", (command) => {
    const { status, stdout } = mantle(command, "--help");
    expect(status).toBe(0);
    expect(stdout).toMatch(new RegExp(`mantle ${command}`));
  });
});
