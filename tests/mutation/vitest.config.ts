import { defineConfig } from "vitest/config";
import { BaseSequencer, type TestSpecification } from "vitest/node";

/** Long tests last: most mutants fall to a known value, which takes no time, and the first failure ends a run. */
class KnownValuesFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const isLong = ({ moduleId }: TestSpecification) =>
      /properties|identities|bad-input|clustered-incidence/.test(moduleId) ? 1 : 0;
    return [...files].sort((a, b) => isLong(a) - isLong(b) || (a.moduleId < b.moduleId ? -1 : 1));
  }
}

/** The tests of the folder whose mutants are run, in one thread and with fewer draws for each property. */
// biome-ignore lint/style/noDefaultExport: the runner takes it so.
export default defineConfig({
  test: {
    include: ["tests/survival/**/*.test.ts"],
    setupFiles: ["tests/mutation/fewer-draws.ts"],
    sequence: { sequencer: KnownValuesFirst },
    isolate: false,
    testTimeout: 60_000,
  },
});
