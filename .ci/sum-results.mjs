// Adds up what each runner reported. A test file that could not be loaded counts as failed, and so does a runner
// that left no report or ran nothing.
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";

const [folder, ...runners] = process.argv.slice(2);
let passed = 0;
let failed = 0;
for (const runner of runners) {
  const file = join(folder, `${runner}.json`);
  if (!existsSync(file)) {
    console.error(`${runner}: no report was written`);
    failed += 1;
    continue;
  }
  const report = JSON.parse(readFileSync(file, "utf8"));
  const unloaded = report.testResults.filter(
    (suite) => suite.status === "failed" && suite.assertionResults.length === 0,
  );
  passed += report.numPassedTests;
  failed += report.numFailedTests + unloaded.length + (report.numTotalTests === 0 ? 1 : 0);
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
