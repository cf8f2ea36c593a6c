import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { contentHash } from "../../../src/base/content-hash.ts";
import { disclose } from "../../../src/disclosure/disclose.ts";
import { reportFiles } from "../../../src/study/making/report-files.ts";
import { notebookSource } from "../../../src/study/notebook/notebook-source.ts";
import { runStudy } from "../../../src/study/run.ts";
import { smallStudy } from "../small-export.ts";

const root = mkdtempSync(join(tmpdir(), "mantle-imported-"));
afterAll(() => rmSync(root, { recursive: true, force: true }));
const folder = join(root, "notebooks");
mkdirSync(join(folder, "parts"), { recursive: true });
const notebook = join(folder, "a.ts");
writeFileSync(notebook, 'import "./parts/one.ts";\nimport type { T } from "./not-there.ts";\nimport "zod";');
writeFileSync(join(folder, "parts/one.ts"), 'export * from "../a.ts";\nimport "../../beside.ts";');
writeFileSync(join(root, "beside.ts"), "// beside");

describe("importedFiles()", () => {
  it("are hashed with the notebook, directly imported or not, those that are there", () => {
    expect(notebookSource(notebook).imported).toEqual([
      { file: "../beside.ts", hash: contentHash("// beside") },
      {
        file: "parts/one.ts",
        hash: contentHash('export * from "../a.ts";\nimport "../../beside.ts";'),
      },
    ]);
  });

  it("stand in the report by name and hash, and never with their text", async () => {
    const { imported = [] } = notebookSource(notebook);
    const { study, source } = smallStudy();
    const run = await runStudy(study, { ...source, imported });
    const files = reportFiles(run, disclose(run.exhibits, "committee"));
    expect(JSON.parse(files.get("results.json") ?? "").imported).toEqual(imported);
    const page = files.get("index.html") ?? "";
    expect(page.includes(`parts/one.ts, SHA-256 ${imported[1]?.hash}`)).toBe(true);
    expect(page.includes("// beside")).toBe(false);
  });
});
