/**
 * Reads many damaged files of every format and counts what became of them.
 *
 *   node --import tsx tests/cases/fuzz/run.ts --files 100000 --seed 1
 *
 * Exits with 1 where a file was met with anything but a reading of what stands in it or a refusal with a reason, took
 * over ten seconds, or made the process grow beyond 1 GB. Nothing is left on the disk.
 */
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import fc from "fast-check";
import { readCases } from "../../../src/cases/read-cases.ts";
import { baseFiles, describe } from "./base-files.ts";
import { mutated, mutations } from "./mutation.ts";
import { verdictOn } from "./verdict.ts";

const MOST_MILLISECONDS = 10_000;
const MOST_BYTES = 1e9;

const { values: options } = parseArgs({
  options: { files: { type: "string", default: "100000" }, seed: { type: "string", default: "1" } },
});
const folder = mkdtempSync(join(tmpdir(), "fuzz-"));
let unhandled = 0;
process.on("unhandledRejection", () => {
  unhandled += 1;
});
try {
  const bases = await baseFiles();
  const each = Math.ceil(Number(options.files) / bases.length);
  let faults = 0;
  let slowest = 0;
  for (const base of bases) {
    const path = join(folder, "datapackage.json");
    const table = join(folder, "cases.csv");
    writeFileSync(path, JSON.stringify(describe(base)));
    writeFileSync(table, base.bytes);
    const whole = await readCases(path);
    const counts = { read: 0, refused: 0, fault: 0 };
    for (const changes of fc.sample(mutations, { numRuns: each, seed: Number(options.seed) })) {
      const bytes = changes.reduce(mutated, base.bytes);
      writeFileSync(table, bytes);
      const started = performance.now();
      const verdict = await verdictOn(path, bytes, base, whole);
      slowest = Math.max(slowest, performance.now() - started);
      counts[verdict.kind] += 1;
      if (verdict.kind === "fault") console.log(`${base.label}: ${verdict.what}: ${JSON.stringify(changes)}`);
    }
    faults += counts.fault;
    console.log(`${base.label}: ${counts.read} read, ${counts.refused} refused, ${counts.fault} faults`);
  }
  const left = readdirSync(folder).length - 2;
  const largest = process.resourceUsage().maxRSS * 1024;
  console.log(
    `slowest ${Math.round(slowest)} ms, at most ${Math.round(largest / 1e6)} MB, ${unhandled} unhandled, ${left} files left`,
  );
  if (faults + unhandled + left > 0 || slowest > MOST_MILLISECONDS || largest > MOST_BYTES)
    process.exitCode = 1;
} finally {
  rmSync(folder, { recursive: true });
}
