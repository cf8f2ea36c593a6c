import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { lockState } from "../../src/study/locking/lock-state.ts";
import { loadNotebook } from "../../src/study/notebook/load-notebook.ts";

const ROOT = join(import.meta.dirname, "../..");
const NOTEBOOK = join(ROOT, "notebooks/movement-before-set.ts");

describe("notebooks/movement-before-set.ts", () => {
  it("is what the README prints", () => {
    const readme = readFileSync(join(ROOT, "README.md"), "utf8");
    const printed = /```ts\n\/\/ notebooks\/movement-before-set\.ts\n([\s\S]*?)```/.exec(readme)?.[1];
    expect(readFileSync(NOTEBOOK, "utf8")).toBe(printed);
  });

  it("is as it was locked", async () => {
    const { declared, source } = await loadNotebook(NOTEBOOK);
    if (declared.kind !== "study") throw new Error("the notebook declares a study");
    expect(lockState(declared.plan, source)).toMatchObject({
      state: "as locked",
      textChanged: false,
      imports: { locked: true, changed: [] },
      replaced: [],
    });
  });
});
