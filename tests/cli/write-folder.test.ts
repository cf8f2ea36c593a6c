import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { writeFolder } from "../../src/cli/write-folder.ts";

let parent: string;
beforeEach(() => {
  parent = mkdtempSync(join(tmpdir(), "mantle-test-"));
});
afterEach(() => rmSync(parent, { recursive: true, force: true }));

const ours = () => true;
const files = (content: string) =>
  new Map([
    ["index.html", content],
    ["tables/a.csv", content],
  ]);

describe("writeFolder()", () => {
  it("replaces the whole folder, so that no file of the former run stays behind", async () => {
    await writeFolder(join(parent, "report"), new Map([...files("old"), ["gone.csv", "old"]]), ours);
    await writeFolder(join(parent, "report"), files("new"), ours);
    expect(readdirSync(join(parent, "report"), { recursive: true }).sort()).toEqual([
      "index.html",
      "tables",
      join("tables", "a.csv"),
    ]);
    expect(readFileSync(join(parent, "report", "index.html"), "utf8")).toBe("new");
  });

  it("leaves the former folder as it was, and nothing beside it, when writing fails half way", async () => {
    await writeFolder(join(parent, "report"), files("old"), ours);
    const failing = new Map([
      ["index.html", "new"],
      ["index.html/inside", "a file is no folder"],
    ]);
    await expect(writeFolder(join(parent, "report"), failing, ours)).rejects.toThrow();
    expect(readFileSync(join(parent, "report", "index.html"), "utf8")).toBe("old");
    expect(readdirSync(parent)).toEqual(["report"]);
  });

  it("refuses a folder that holds somebody else's files", async () => {
    await writeFolder(join(parent, "data"), new Map([["my.csv", "mine"]]), ours);
    const notOurs = () => false;
    await expect(writeFolder(join(parent, "data"), files("new"), notOurs)).rejects.toThrow(/did not write/);
    expect(readFileSync(join(parent, "data", "my.csv"), "utf8")).toBe("mine");
  });

  it("writes pieces in their order", async () => {
    await writeFolder(join(parent, "data"), new Map([["long.csv", ["a\n", "b\n"]]]), ours);
    expect(readFileSync(join(parent, "data", "long.csv"), "utf8")).toBe("a\nb\n");
  });
});
