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

describe("mantle report of a plan that does not fit", () => {
  it("names the notebook, the line of each fault and the nearest word, whether the plan or the export is asked", async () => {
    const options = { audience: "committee", out: join(folder, "none") };
    const wrong = notebook("wrong.ts", {
      covariates: ["role:sex", "role:agYears"],
      exposure: { step: "tourniqet" as "tourniquet" },
    });
    const lineOf = (word: string) =>
      1 +
      readFileSync(wrong, "utf8")
        .split("\n")
        .findIndex((line) => line.includes(word));
    await expect(report([wrong], options)).rejects.toThrow(
      [
        `${wrong}: 2 places of the plan are to be corrected`,
        `  line ${lineOf("tourniqet")}, exposure.step: "tourniqet" is no technique step; did you mean "tourniquet"?`,
        `  line ${lineOf("agYears")}, covariates[1]: "role:agYears" names no role; did you mean "role:ageYears"?`,
        "  Steps recorded in the export:",
      ].join("\n"),
    );
    const shape = notebook("shape.ts", { clusters: "surgon" as "surgeon" });
    await expect(report([shape], options)).rejects.toThrow(
      new RegExp(`^${shape}, line \\d+, clusters: must be .*; did you mean "surgeon"\\?$`),
    );
    const nobody = notebook("nobody.ts", {
      eligibility: [{ label: "very old", field: "role:ageYears", from: 119 }],
    });
    await expect(report([nobody], options)).rejects.toThrow(
      new RegExp(`^${nobody}, line \\d+, eligibility\\[0\\]: "very old" left none of the knees`),
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
