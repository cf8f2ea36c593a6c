import { defineConfig } from "vitest/config";

const alias = { "mantle-outcomes": new URL("./src/index.ts", import.meta.url).pathname };

/** Three runners: `unit` needs Node alone, `browser` needs Chromium, `reference` needs R. */
export default defineConfig({
  test: {
    // The default leaves a core for an editor's watcher.
    maxWorkers: "100%",
    projects: [
      {
        resolve: { alias },
        test: {
          name: "unit",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/browser/**", "tests/reference/**"],
          testTimeout: 60_000,
        },
      },
      {
        resolve: { alias },
        test: {
          name: "browser",
          include: ["tests/browser/**/*.test.ts"],
          testTimeout: 120_000,
          fileParallelism: false,
        },
      },
      {
        resolve: { alias },
        test: { name: "reference", include: ["tests/reference/**/*.test.ts"], testTimeout: 300_000 },
      },
    ],
  },
});
