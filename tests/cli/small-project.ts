import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, vi } from "vitest";
import type { StudyPlan } from "../../src/study/plan/plan.ts";
import { syntheticExport } from "../../src/synthetic/synthetic-export.ts";
import { PLAN } from "../study/small-export.ts";

/** A folder with a small invented export and room for notebooks, gone after the tests of the file. */
export interface SmallProject {
  readonly folder: string;
  /** Writes a notebook that declares the small plan with some places changed. A module is loaded once: name each anew. */
  readonly notebook: (name: string, plan?: Partial<StudyPlan>) => string;
}

export function smallProject(): SmallProject {
  const folder = mkdtempSync(join(tmpdir(), "mantle-project-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const { csvChunks, descriptor } = syntheticExport({ knees: 1500, surgeons: 12, seed: 5 });
  writeFileSync(join(folder, "cases.csv"), [...csvChunks()].join(""));
  writeFileSync(join(folder, "datapackage.json"), JSON.stringify(descriptor));
  return {
    folder,
    notebook(name, plan = {}) {
      const path = join(folder, name);
      writeFileSync(path, notebookText(plan));
      return path;
    },
  };
}

/** What a command said, and its exit code, without a process of its own. */
export async function saidBy(command: () => Promise<number>): Promise<{ code: number; said: string }> {
  const lines: string[] = [];
  const log = vi.spyOn(console, "log").mockImplementation((line) => void lines.push(String(line)));
  try {
    return { code: await command(), said: lines.join("\n") };
  } finally {
    log.mockRestore();
  }
}

function notebookText(plan: Partial<StudyPlan>): string {
  const text = JSON.stringify({ ...PLAN, ...plan }, null, 2);
  return `import { defineStudy } from "mantle-outcomes";\n\nexport default defineStudy(${text});\n`;
}
