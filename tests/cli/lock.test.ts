import { copyFileSync, existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type LockOptions, lock } from "../../src/cli/commands/lock.ts";
import { notebookSource } from "../../src/study/notebook/notebook-source.ts";
import { saidBy, smallProject } from "./small-project.ts";

const { folder, notebook } = smallProject();
const file = (name: string) => join(folder, `${name}.lock.json`);
const text = (name: string) => readFileSync(file(name), "utf8");
const locked = (path: string, options: Partial<LockOptions> = {}) =>
  saidBy(() => lock(path, { replace: false, ...options }));

describe("mantle lock", () => {
  it("writes the plan and its hash beside the notebook, and locks the same plan only once", async () => {
    const path = notebook("once.ts");
    const first = await locked(path);
    expect(first.code).toBe(0);
    const before = text("once");
    expect(JSON.parse(before)).toMatchObject({ kind: "plan lock", notebook: "once.ts", replaced: [] });
    expect(first.said).toContain(JSON.parse(before).planHash);
    expect(await locked(path)).toMatchObject({ code: 0, said: expect.stringMatching(/^Locked already: /) });
    expect(text("once")).toBe(before);
    expect(notebookSource(path).lock).toEqual({ fileName: "once.lock.json", text: before });
  });

  it("adds what the author states later, and refuses to state something else", async () => {
    const path = notebook("stated.ts");
    await locked(path);
    const { planHash } = JSON.parse(text("stated"));
    await locked(path, { depositedAt: "a public archive" });
    expect((await locked(path, { depositedOn: "2026-01-31" })).said).toMatch(/what you state was added/);
    const stands = JSON.parse(text("stated"));
    expect(stands).toMatchObject({ planHash, replaced: [] });
    expect(stands.stated).toEqual({ depositedAt: "a public archive", depositedOn: "2026-01-31" });
    await expect(locked(path, { depositedAt: "a drawer" })).rejects.toThrow(/states something else already/);
  });

  it("never writes over the lock of another plan unasked, and lists what changed", async () => {
    await locked(notebook("first.ts"), { depositedAt: "a public archive" });
    const path = notebook("changed.ts", { years: [5, 10, 15] });
    copyFileSync(file("first"), file("changed"));
    await expect(locked(path)).rejects.toThrow(/Years: 5, 10 → 5, 10, 15\n.*--replace/);
    expect(text("changed")).toBe(text("first"));
    expect((await locked(path, { replace: true })).said).toMatch(/^Locked anew/);
    const { planHash, notebookHash, stated } = JSON.parse(text("first"));
    expect(JSON.parse(text("changed"))).toMatchObject({
      stated: {},
      replaced: [{ planHash, notebookHash, stated }],
    });
  });

  it("locks no plan that does not fit its export, and says so where the export is not there", async () => {
    const misspelt = notebook("misspelt.ts", { covariates: ["role:ageYear"] });
    await expect(locked(misspelt)).rejects.toThrow(/misspelt\.ts[\s\S]*covariates\[0\]/);
    expect(existsSync(file("misspelt"))).toBe(false);
    const early = notebook("early.ts", { export: "not-there-yet/datapackage.json" });
    expect((await locked(early)).code).toBe(0);
    expect(existsSync(file("early"))).toBe(true);
  });

  it("refuses a lock that was changed by hand", async () => {
    await locked(notebook("forged.ts"));
    writeFileSync(file("forged"), text("forged").replace('"A question"', '"Another question"'));
    await expect(locked(join(folder, "forged.ts"))).rejects.toThrow(
      /forged\.lock\.json: the plan in it does not have the hash in it/,
    );
  });

  it.each<[string, Partial<LockOptions>, RegExp]>([
    ["a day that is none", { depositedOn: "2026-02-30" }, /--deposited-on: must be a date such as/],
    ["a hash that is none", { exportHash: "abc" }, /--export-hash: must be a SHA-256 of 64 signs/],
    ["an empty place", { depositedAt: " " }, /--deposited-at: must not be empty/],
    ["a notebook without a study", {}, /what-can-we-ask\.ts: declares no study/],
  ])("refuses %s", async (_what, options, words) => {
    await expect(locked("notebooks/what-can-we-ask.ts", options)).rejects.toThrow(words);
  });
});
