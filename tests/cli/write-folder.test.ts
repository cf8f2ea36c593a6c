import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { writeFolder } from "../../src/cli/write-folder.ts";
import { writeReport } from "../../src/cli/write-report.ts";

let parent: string;
beforeEach(() => {
  parent = mkdtempSync(join(tmpdir(), "mantle-test-"));
});
afterEach(() => rmSync(parent, { recursive: true, force: true }));

const ours = { isOurs: () => true, writes: /^(index\.html|gone\.csv|tables\/a\.csv)$/ };
const files = (content: string) =>
  new Map([
    ["index.html", content],
    ["tables/a.csv", content],
  ]);

describe("writeReport()", () => {
  const report = new Map([
    ["index.html", ""],
    ["results.json", "{}"],
    ["figures/flow.svg", ""],
    ["tables/flow.csv", ""],
  ]);

  it("replaces a former report, but not one that holds somebody's notes", async () => {
    const folder = join(parent, "report");
    await writeReport(folder, report);
    await writeReport(folder, report);
    writeFileSync(join(folder, "my-notes.txt"), "mine");
    await expect(writeReport(folder, report)).rejects.toThrow(/holds my-notes\.txt/);
    expect(readFileSync(join(folder, "my-notes.txt"), "utf8")).toBe("mine");
  });

  it("never puts the report for one audience in the place of another's, and says what to do", async () => {
    const folder = join(parent, "report");
    const madeFor = (audience: string) =>
      new Map([...report, ["results.json", JSON.stringify({ audience })]]);
    await writeReport(folder, madeFor("committee"));
    await writeReport(folder, madeFor("committee"));
    const wanted = /"committee" and stays as it is; name another folder for "analyst" with --out, or delete/;
    await expect(writeReport(folder, madeFor("analyst"))).rejects.toThrow(wanted);
    expect(readFileSync(join(folder, "results.json"), "utf8")).toContain("committee");
  });
});

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
    const notOurs = { ...ours, isOurs: () => false };
    await expect(writeFolder(join(parent, "data"), files("new"), notOurs)).rejects.toThrow(/did not write/);
    expect(readFileSync(join(parent, "data", "my.csv"), "utf8")).toBe("mine");
  });

  it.each(["my-notes.txt", "tables/mine.xlsx", "drafts/index.html"])(
    "refuses to replace its own folder where somebody keeps %s in it, and says what to do",
    async (mine) => {
      const folder = join(parent, "report");
      await writeFolder(folder, files("old"), ours);
      mkdirSync(dirname(join(folder, mine)), { recursive: true });
      writeFileSync(join(folder, mine), "mine");
      await expect(writeFolder(folder, files("new"), ours)).rejects.toThrow(
        `holds ${mine}, which this command did not write, and stays as it is; move that file elsewhere, or name a new folder with --out`,
      );
      expect(readFileSync(join(folder, mine), "utf8")).toBe("mine");
      expect(readFileSync(join(folder, "index.html"), "utf8")).toBe("old");
      expect(readdirSync(parent)).toEqual(["report"]);
    },
  );

  it("does not mistake the traces of a file browser for somebody's work", async () => {
    const folder = join(parent, "report");
    await writeFolder(folder, files("old"), ours);
    writeFileSync(join(folder, ".DS_Store"), "");
    await writeFolder(folder, files("new"), ours);
    expect(readdirSync(folder).sort()).toEqual(["index.html", "tables"]);
  });

  it("refuses a file in the folder's place", async () => {
    writeFileSync(join(parent, "report"), "mine");
    await expect(writeFolder(join(parent, "report"), files("new"), ours)).rejects.toThrow(/is a file/);
    expect(readFileSync(join(parent, "report"), "utf8")).toBe("mine");
  });

  it("writes pieces in their order", async () => {
    await writeFolder(join(parent, "data"), new Map([["long.csv", ["a\n", "b\n"]]]), ours);
    expect(readFileSync(join(parent, "data", "long.csv"), "utf8")).toBe("a\nb\n");
  });
});
