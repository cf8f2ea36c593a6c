import { describe, expect, it } from "vitest";
import { disclose } from "../../../src/disclosure/disclose.ts";
import { lockState } from "../../../src/study/locking/lock-state.ts";
import { lockWords } from "../../../src/study/locking/lock-words.ts";
import { lockPlan, lockText, readLock } from "../../../src/study/locking/plan-lock.ts";
import { whenStated } from "../../../src/study/locking/when-stated.ts";
import { reportFiles } from "../../../src/study/making/report-files.ts";
import type { NotebookSource } from "../../../src/study/notebook/notebook-source.ts";
import { runStudy } from "../../../src/study/run.ts";
import { PLAN, smallStudy } from "../small-export.ts";

const notebook: NotebookSource = { folder: "", fileName: "a.ts", source: "// as locked" };
const withLock = (text: string, source = notebook.source): NotebookSource => ({
  ...notebook,
  source,
  lock: { fileName: "a.lock.json", text },
});
const filesOf = (hashes: Readonly<Record<string, string>>) =>
  Object.entries(hashes).map(([name, hash]) => ({ file: `${name}.ts`, hash }));
const EXPORT = "e".repeat(64);
const words = (...of: Parameters<typeof lockState>) =>
  lockWords(lockState(...of), EXPORT)
    .items.map(({ term, text }) => `${term}: ${text}`)
    .join("\n");

describe("lockState() and its words", () => {
  const lock = lockPlan(PLAN, notebook, { depositedAt: "an archive", exportHash: EXPORT });

  it("say that a plan without a lock is not locked", () => {
    expect(lockState(PLAN, notebook)).toEqual({ state: "not locked" });
    expect(words(PLAN, notebook)).toMatch(/^Lock of the plan: Not locked/);
  });

  it("say that a plan is the locked one, and what its author states, as unverified", () => {
    const said = words(PLAN, withLock(lockText(lock)));
    expect(said).toMatch(
      /This is the locked plan, and the notebook's text and every file that it imports .* are those of the lock/,
    );
    expect(said).toContain(lock.planHash);
    expect(said).toMatch(
      /Stated by the author, not verified: Deposited at an archive\. .* is the one analysed/,
    );
  });

  it("tell a text that changed from a plan that did", () => {
    const source = withLock(lockText(lock), "// with another comment");
    expect(lockState(PLAN, source)).toMatchObject({ state: "as locked", textChanged: true, changes: [] });
    expect(words(PLAN, source)).toMatch(/Beside it, the notebook's own text was changed since/);
    const changed = lockState({ ...PLAN, years: [5] }, source);
    expect(changed).toMatchObject({ state: "changed since it was locked", changes: ["Years: 5, 10 → 5"] });
  });

  it("name every imported file that is new, gone or another, and no file that is as it was", () => {
    const [a, b] = ["a".repeat(64), "b".repeat(64)];
    const with3 = lockPlan(PLAN, { ...notebook, imported: filesOf({ same: a, other: a, gone: a }) }, {});
    const source = { ...withLock(lockText(with3)), imported: filesOf({ same: a, other: b, fresh: b }) };
    expect(lockState(PLAN, source)).toMatchObject({
      state: "as locked",
      textChanged: false,
      imports: { locked: true, changed: ["fresh.ts", "gone.ts", "other.ts"] },
    });
    expect(words(PLAN, source)).toMatch(
      /Beside it, fresh\.ts, which the notebook imports, is not that of the lock; gone/,
    );
    expect(words(PLAN, source)).not.toContain("same.ts");
  });

  it("say that a lock of an earlier version does not cover what is imported", () => {
    const { imported: _, ...old } = lock;
    const source = withLock(lockText(old));
    expect(lockState(PLAN, source)).toMatchObject({ state: "as locked", imports: { locked: false } });
    expect(words(PLAN, source)).toMatch(/files that the notebook imports were not locked/);
  });

  it("name the locks that were replaced", () => {
    const again = lockPlan({ ...PLAN, years: [5] }, notebook, {}, lock);
    expect(again.replaced).toEqual([
      { planHash: lock.planHash, notebookHash: lock.notebookHash, stated: lock.stated },
    ]);
    const said = words({ ...PLAN, years: [5] }, withLock(lockText(again)));
    expect(said).toMatch(/No deposit is stated/);
    expect(said).toMatch(`took the place of 1 before it; their plans: SHA-256 ${lock.planHash}`);
  });

  it("come back from the file as they went in, and refuse any other file by its name", () => {
    expect(readLock(lockText(lock), "x")).toEqual(lock);
    for (const text of ["", "{", "[]", "{}", lockText({ ...lock, planHash: EXPORT })]) {
      expect(() => readLock(text, "some/a.lock.json")).toThrow(/^some\/a\.lock\.json: /);
    }
  });

  it("are what says that the smallest difference was set beforehand", () => {
    const { study, source } = smallStudy();
    const lock = lockText(lockPlan(study.plan, source, {}));
    const unlocked = lockState(study.plan, source);
    const locked = lockState(study.plan, { ...source, lock: { fileName: "a.lock.json", text: lock } });
    expect(whenStated(unlocked)).toBe("stated in the plan, which was not locked");
    expect(whenStated(locked)).toBe("set beforehand");
  });

  it("stand in the report, with every change, as text", async () => {
    const { study, source } = smallStudy();
    const before = lockPlan({ ...PLAN, title: "<b>Before</b>" }, source, {});
    const run = await runStudy(study, {
      ...source,
      lock: { fileName: "a.lock.json", text: lockText(before) },
    });
    const files = reportFiles(run, disclose(run.exhibits, "committee"));
    const change = "Title: “<b>Before</b>” → “A question”";
    expect(JSON.parse(files.get("results.json") ?? "").planLock).toMatchObject({
      state: "changed since it was locked",
      changes: [change],
    });
    const page = files.get("index.html") ?? "";
    expect(page.includes("Changed since it was locked, in one place")).toBe(true);
    expect(page.includes("set beforehand")).toBe(false);
    expect(page.split("stated in the plan, which was changed after it was locked").length - 1).toBe(2);
    expect(page.includes(`>${change.replaceAll("<", "&lt;").replaceAll(">", "&gt;")}</li>`)).toBe(true);
  });
});
