import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { refreshIndex, refuseForeignIndex, writeIndex } from "../../src/cli/index-page.ts";

function folderOf(...ids: string[]): string {
  const folder = mkdtempSync(join(tmpdir(), "mantle-index-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  for (const id of ids) addReport(folder, id);
  return folder;
}

function addReport(folder: string, id: string): void {
  mkdirSync(join(folder, id));
  writeFileSync(join(folder, id, "results.json"), JSON.stringify({ id, title: `About ${id}`, subtitle: "" }));
}

const index = (folder: string) => readFileSync(join(folder, "index.html"), "utf8");

describe("the list of reports", () => {
  it("takes in a report that another command wrote beside the others", () => {
    const folder = folderOf("first");
    writeIndex(folder);
    addReport(folder, "added-counts");
    refreshIndex(folder);
    expect(index(folder)).toContain("About added-counts");
    expect(index(folder)).toContain("About first");
  });

  it("is not begun where there is none, nor in somebody else's page, nor in a report itself", () => {
    const none = folderOf("first");
    refreshIndex(none);
    expect(() => index(none)).toThrow("ENOENT");
    writeFileSync(join(none, "index.html"), "<p>mine</p>");
    refreshIndex(none);
    expect(index(none)).toBe("<p>mine</p>");
    expect(() => refuseForeignIndex(none)).toThrow("is a page that this command did not write");
    const report = folderOf();
    writeFileSync(join(report, "results.json"), "{}");
    writeFileSync(join(report, "index.html"), '<meta name="generator" content="Mantle">');
    refreshIndex(report);
    expect(() => refuseForeignIndex(report)).toThrow("is itself a report");
    expect(index(report)).toBe('<meta name="generator" content="Mantle">');
  });
});
