import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { check } from "../../src/cli/commands/check.ts";
import { feasibility } from "../../src/cli/commands/feasibility.ts";
import { newNotebook } from "../../src/cli/commands/new.ts";
import { descriptorPath } from "../../src/cli/descriptor-path.ts";

const folder = mkdtempSync(join(tmpdir(), "mantle-named-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const empty = join(folder, "empty");
mkdirSync(empty);
writeFileSync(join(folder, "datapackage.json"), "{}");

/** Every command that takes an export. */
const commands = {
  check: (path: string) => check(path, { json: false, audience: "committee" }),
  new: (path: string) =>
    newNotebook("Does it matter?", { export: path, out: join(folder, "notebooks"), fieldsOnly: false }),
  feasibility: (path: string) =>
    feasibility(path, {
      out: join(folder, "page"),
      audience: "committee",
      year: "10",
      periods: "none",
      stratum: [],
    }),
};

describe("descriptorPath()", () => {
  it("is the dictionary itself, or the one in a folder", () => {
    const dictionary = join(folder, "datapackage.json");
    expect([descriptorPath(folder), descriptorPath(dictionary)]).toEqual([dictionary, dictionary]);
  });

  it.each(Object.entries(commands))(
    "lets mantle %s say what is not there, and what to do",
    async (_name, run) => {
      await expect(run(empty)).rejects.toThrow(
        `${empty}: holds no dictionary (datapackage.json); check the path, or have one proposed`,
      );
      await expect(run(join(folder, "gone"))).rejects.toThrow(
        "gone: is not there; check the path, and name a table",
      );
    },
  );
});
