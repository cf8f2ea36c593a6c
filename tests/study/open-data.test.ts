import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { disclose } from "../../src/disclosure/disclose.ts";
import { reportFiles } from "../../src/study/making/report-files.ts";
import { loadNotebook } from "../../src/study/notebook/load-notebook.ts";
import type { Study } from "../../src/study/plan/define-study.ts";
import { runStudy, type StudyRun } from "../../src/study/run.ts";
import { referenceRecord } from "../reference/record.ts";

interface ByGroup {
  readonly times: readonly number[];
  readonly n: number;
  readonly atRisk: readonly number[];
  readonly cause1: { readonly cif: readonly number[]; readonly seDeltaGreenwood: readonly number[] };
  readonly cause2: { readonly cif: readonly number[] };
}

/** mgus2: 1,384 people, months, two outcomes (Kyle et al. 2002); values from the R packages survival and cmprsk. */
describe("the main job on a published open data set", () => {
  let run: StudyRun;
  beforeAll(async () => {
    const { declared, source } = await loadNotebook(
      join(import.meta.dirname, "../../notebooks/gammopathy-and-sex.ts"),
    );
    run = await runStudy(declared as Study, source);
  });

  it("finds the reference incidence, standard error and number at risk of both outcomes in both groups", () => {
    const expected = referenceRecord("04_competing_risks", "cif.mgus2_by_sex").expected as Record<
      "F" | "M",
      ByGroup
    >;
    const { incidence } = run.estimates;
    if (!incidence.computed) throw new Error(incidence.because);
    for (const [label, code] of [
      ["women", "F"],
      ["men", "M"],
    ] as const) {
      const reference = expected[code];
      const [malignancy, death] = incidence.curves.filter(({ group }) => group === label);
      expect(malignancy?.cases).toBe(reference.n);
      reference.times.forEach((month, at) => {
        const step = malignancy?.time.findLastIndex((time) => time <= month) ?? -1;
        const next = malignancy?.time.findIndex((time) => time >= month) ?? -1;
        expect(malignancy?.incidence[step]).toBeCloseTo(reference.cause1.cif[at] ?? Number.NaN, 11);
        expect(malignancy?.standardError[step]).toBeCloseTo(
          reference.cause1.seDeltaGreenwood[at] ?? Number.NaN,
          11,
        );
        expect(death?.incidence[step]).toBeCloseTo(reference.cause2.cif[at] ?? Number.NaN, 11);
        // closed form of "at risk at a month": those who have not left before it
        if (next >= 0) expect(malignancy?.atRisk[next]).toBe(reference.atRisk[at]);
      });
    }
  });

  it("counts all 115 malignancies and 860 deaths of the file", () => {
    const { incidence } = run.estimates;
    const total = (cause: string) =>
      incidence.computed
        ? incidence.curves
            .filter((curve) => curve.cause === cause)
            .reduce((sum, curve) => sum + curve.events, 0)
        : 0;
    expect([total("plasma-cell malignancy"), total("death")]).toEqual([115, 860]);
  });

  it("speaks of people and events, never of knees, cement or revisions", () => {
    const files = reportFiles(run, disclose(run.exhibits, "committee"));
    const page = (files.get("index.html") ?? "").replace(/<style[\s\S]*?<\/style>/g, "");
    expect(page).toMatch(/per 1000 people/);
    expect(page).not.toMatch(/\bknees?\b|\bcement|\brevisions?\b|\bsurgeons?\b|\bimplant/i);
  });
});
