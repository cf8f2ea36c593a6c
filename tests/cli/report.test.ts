import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import { report } from "../../src/cli/commands/report.ts";
import { saidBy, smallProject } from "./small-project.ts";

const { folder, notebook } = smallProject();

describe("mantle report", () => {
  it.each(["README.md", "data/demo"])("says of %s that a notebook is a .ts file", async (path) => {
    const out = join(folder, "none");
    await expect(report([path], { audience: "committee", out })).rejects.toThrow(
      `${path}: a notebook is a .ts file; name one such as notebooks/my-question.ts`,
    );
  });
});

describe("mantle report of several notebooks", () => {
  it("leaves out the one that cannot be run, says why, makes the others, and exits with 2", async () => {
    const [unfinished, finished] = [
      notebook("unfinished.ts", { title: "?" }),
      notebook("finished.ts", { id: "made" }),
    ];
    const out = join(folder, "reports");
    const errors: string[] = [];
    const error = vi.spyOn(console, "error").mockImplementation((line) => void errors.push(String(line)));
    const { code, said } = await saidBy(() => report([unfinished, finished], { audience: "committee", out }));
    error.mockRestore();
    expect(code).toBe(2);
    expect(said).toBe(join(out, "made", "index.html"));
    expect(errors[0]).toMatch(/^left out {2}.*unfinished\.ts, line \d+, title: decide title$/);
    expect(errors[1]).toBe(`1 of 2 notebooks left out: ${unfinished}`);
    expect(existsSync(join(out, "made", "results.json"))).toBe(true);
    expect(readFileSync(join(out, "index.html"), "utf8")).toContain("made/index.html");
  });
});
