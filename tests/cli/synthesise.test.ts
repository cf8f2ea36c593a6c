import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { type SynthesiseOptions, synthesise } from "../../src/cli/commands/synthesise.ts";
import { saidBy, smallProject } from "./small-project.ts";

const { folder } = smallProject();
const out = join(folder, "generated");
const made = (options: Partial<SynthesiseOptions> = {}) =>
  saidBy(() => synthesise({ knees: "300", surgeons: "12", centres: "2", out, replace: false, ...options }));

describe("mantle synthesise", () => {
  it("says what was written, and replaces an export of other settings only where told", async () => {
    const place = join(out, "datapackage.json");
    expect((await made()).said).toBe(`Written: 300 invented knees, 12 surgeons, 2 centres\n${place}`);
    const before = readFileSync(join(out, "cases.csv"), "utf8");
    expect((await made()).said).toMatch(/^Written/);
    await expect(made({ knees: "200" })).rejects.toThrow(
      /generated: holds an invented export of other settings .*\(300 knees of \d+ patients, .*\); .*--replace$/,
    );
    expect(readFileSync(join(out, "cases.csv"), "utf8")).toBe(before);
    expect((await made({ knees: "200", replace: true })).said).toMatch(/^Replaced: 200 invented knees/);
  });

  it.each<[Partial<SynthesiseOptions>, RegExp]>([
    [{ knees: "3" }, /--knees: write 100 or more; fewer hold no revision/],
    [{ surgeons: "0" }, /--surgeons: write a number from 1/],
    [{ surgeons: "301" }, /--surgeons: .* each surgeon operates/],
    [{ centres: "13" }, /--centres: .* that of the surgeons/],
  ])("refuses %o with a reason", async (options, words) => {
    await expect(made(options)).rejects.toThrow(words);
  });
});
