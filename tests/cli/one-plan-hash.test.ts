import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { lock } from "../../src/cli/commands/lock.ts";
import { makeReport } from "../../src/study/making/make-report.ts";
import { saidBy, smallProject } from "./small-project.ts";

const { folder, notebook } = smallProject();

describe("the hash of a plan", () => {
  it("is the same in the lock, on the page and in results.json; the notebook's text has its own", async () => {
    const path = notebook("hashed.ts");
    const { said } = await saidBy(() => lock(path, { replace: false }));
    const { planHash, notebookHash } = JSON.parse(readFileSync(join(folder, "hashed.lock.json"), "utf8"));
    expect(said).toContain(`plan SHA-256 ${planHash}\nnotebook's text SHA-256 ${notebookHash}`);
    const { files } = await makeReport(path, "committee");
    expect(JSON.parse(files.get("results.json") ?? "").hashes).toMatchObject({
      plan: planHash,
      notebook: notebookHash,
    });
    expect(files.get("index.html")).toContain(`Plan ${planHash.slice(0, 12)}`);
  });
});
