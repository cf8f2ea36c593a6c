import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { contentHash } from "../../../src/base/content-hash.ts";
import { disclose } from "../../../src/disclosure/disclose.ts";
import { ownReportFiles } from "../../../src/study/making/own-report-files.ts";
import { reportFiles } from "../../../src/study/making/report-files.ts";
import { defineReport } from "../../../src/study/notebook/define-report.ts";
import type { ImportedFile } from "../../../src/study/notebook/imported-files.ts";
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

  it("do not hold the package, which is named by its version", () => {
    const own = join(folder, "b.ts");
    const source = join(import.meta.dirname, "../../../src/base/answer.ts");
    writeFileSync(own, `import "./${relative(folder, source)}";\nimport "./parts/one.ts";`);
    expect(notebookSource(own).imported?.map(({ file }) => file)).toEqual([
      "../beside.ts",
      "a.ts",
      "parts/one.ts",
    ]);
  });

  it("stand with their hashes in a report of the notebook's own exhibits, which changes when one of them does", () => {
    const report = defineReport({
      id: "own",
      title: "Own",
      subtitle: "",
      exhibits: () => [],
      sections: () => [],
    });
    const filesOf = (imported: readonly ImportedFile[]) =>
      ownReportFiles(report, disclose([], "committee"), { folder, fileName: "a.ts", source: "", imported });
    const files = filesOf([{ file: "parts/one.ts", hash: "abc" }]);
    expect(JSON.parse(files.get("results.json") ?? "").imported).toEqual([
      { file: "parts/one.ts", hash: "abc" },
    ]);
    expect(files.get("index.html")).toContain("abc  parts/one.ts");
    expect(filesOf([{ file: "parts/one.ts", hash: "abd" }]).get("results.json")).not.toBe(
      files.get("results.json"),
    );
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
