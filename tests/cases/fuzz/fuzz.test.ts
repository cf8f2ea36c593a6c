import { readdirSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import fc from "fast-check";
import { expect, describe as group, it } from "vitest";
import { readCases } from "../../../src/cases/read-cases.ts";
import { writeExport } from "../export-file.ts";
import { baseFiles, describe } from "./base-files.ts";
import { mutated, mutations } from "./mutation.ts";
import { verdictOn } from "./verdict.ts";

group("a file whose bytes were changed", async () => {
  const files = await baseFiles();

  it.each(files.map((file) => [file.label, file] as const))(
    "(%s) is read as it stands or refused with a reason; no row and no value is lost, and nothing is left behind",
    async (_, base) => {
      const path = writeExport(base.bytes, describe(base));
      const whole = await readCases(path);
      expect(whole.findings.errors).toBe(0);
      await fc.assert(
        fc.asyncProperty(mutations, async (changes) => {
          const bytes = changes.reduce(mutated, base.bytes);
          writeFileSync(path.replace("datapackage.json", "cases.csv"), bytes);
          expect(await verdictOn(path, bytes, base, whole)).not.toMatchObject({ kind: "fault" });
        }),
        { numRuns: 150, seed: 20_240_611 },
      );
      expect(readdirSync(dirname(path)).sort()).toEqual(["cases.csv", "datapackage.json"]);
    },
    60_000,
  );
});
