import { appendFileSync, cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { report } from "../../src/cli/commands/report.ts";
import { verify } from "../../src/cli/commands/verify.ts";
import { saidBy, smallProject } from "./small-project.ts";

const { folder, notebook } = smallProject();
const out = join(folder, "reports");
const made = join(out, "a-question");
let path: string;
beforeAll(async () => {
  path = notebook("question.ts");
  await saidBy(() => report([path], { audience: "external", out }));
});

describe("mantle verify", () => {
  it("says that a report comes out again, for the readers it was made for, wherever the export lies", async () => {
    const elsewhere = join(folder, "elsewhere");
    mkdirSync(elsewhere);
    for (const name of ["cases.csv", "datapackage.json"]) cpSync(join(folder, name), join(elsewhere, name));
    const { code, said } = await saidBy(() => verify(made, { notebook: path, export: elsewhere }));
    expect(said).toMatch(/^Same: all \d+ files of the report come out again, byte for byte\.$/);
    expect(code).toBe(0);
  });

  it("says what differs: a number changed by hand, another export, another plan", async () => {
    const spoilt = join(folder, "spoilt");
    cpSync(made, spoilt, { recursive: true });
    appendFileSync(join(spoilt, "tables/rates.csv"), "more\n");
    const other = join(folder, "other");
    mkdirSync(other);
    cpSync(join(folder, "datapackage.json"), join(other, "datapackage.json"));
    const rows = readFileSync(join(folder, "cases.csv"), "utf8").split("\n");
    writeFileSync(join(other, "cases.csv"), rows.filter((_, at) => at !== 7).join("\n"));
    const plan = notebook("changed.ts", { years: [5] });
    const { code, said } = await saidBy(() => verify(spoilt, { notebook: plan, export: other }));
    expect(code).toBe(1);
    expect(said).toMatch(/Export: another file \(SHA-256 /);
    expect(said).toMatch(/Plan: Years: 5, 10 → 5\n/);
    expect(said).toMatch(/“all knees of the export”, “number”: 1\d+ → 1\d+/);
    const { said: tampered } = await saidBy(() => verify(spoilt, { notebook: path }));
    expect(tampered).toMatch(/Files\n {2}other bytes: tables\/rates\.csv$/);
    expect(readdirSync(out).sort()).toEqual(["a-question", "index.html"]);
  });

  it("refuses a folder that holds no report, or none for any reader", async () => {
    await expect(verify(folder, { notebook: path })).rejects.toThrow(/holds no report/);
    writeFileSync(join(folder, "results.json"), "{}");
    await expect(verify(folder, { notebook: path })).rejects.toThrow(/does not say for whom/);
  });
});
