import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { BenchStep } from "./bench-step.ts";
import { benchTable } from "./bench-table.ts";
import { writeCovariates } from "./invented-covariates.ts";
import { writeInventedExports } from "./invented-export.ts";
import { inventedFollowUp, readColumns, writeColumns } from "./invented-follow-up.ts";
import { timeStep } from "./run-step.ts";
import { STEPS } from "./steps.ts";

const KNEES = 3000;

describe("the bench", () => {
  const root = mkdtempSync(join(tmpdir(), "bench-test-"));
  const folders = {
    columns: join(root, "columns"),
    narrow: join(root, "narrow"),
    middle: join(root, "middle"),
    wide: join(root, "wide"),
    demo: join(import.meta.dirname, "../../data/demo"),
  };

  beforeAll(() => {
    mkdirSync(folders.columns);
    writeColumns(folders.columns, inventedFollowUp(KNEES));
    writeCovariates(folders.columns, KNEES);
    writeInventedExports(KNEES, folders);
  });
  afterAll(() => rmSync(root, { recursive: true }));

  it("invents what it says: some 3 % first events, 17 % deaths, whole days up to 15 years", () => {
    const { exit, event } = inventedFollowUp(100_000);
    const share = (code: number) => event.filter((one) => one === code).length / event.length;
    expect(share(1)).toBeGreaterThan(0.025);
    expect(share(1)).toBeLessThan(0.035);
    expect(share(2)).toBeGreaterThan(0.16);
    expect(share(2)).toBeLessThan(0.18);
    expect(exit.reduce((most, one) => Math.max(most, one), 0)).toBeLessThan(15 * 365.25);
  });

  it("hands the columns on unchanged through its files", () => {
    expect(readColumns(folders.columns)).toEqual(inventedFollowUp(KNEES));
  });

  it.each(STEPS.map(({ name, data }) => ({ name, data })))("can run: $name", async ({ name, data }) => {
    // As in the process of a step: the list holds steps of several types.
    const step = STEPS.find((one) => one.name === name) as unknown as BenchStep;
    const { answer } = await timeStep({ ...step, warmRuns: 0 }, folders[data]);
    // The invented exports break no rule; every other step answers something above 0.
    if (name.includes("rule")) expect(answer).toBe(data === "middle" ? KNEES : 0);
    else expect(answer).toBeGreaterThan(0);
  });
});

describe("benchTable()", () => {
  const times = { first: 0.5, second: 0.25 };
  const step = {
    name: "a step",
    knees: 10,
    parts: ["counts", "estimator"],
    cold: times,
    warm: times,
    megabytes: 99.6,
    answer: 2,
  } as const;
  const cells = (table: string) => table.split("\n")[1]?.split(/ {2,}/);

  it("divides the time of R by our cold time", () => {
    const inR = { finished: true, seconds: 1.5, megabytes: 1, answer: 2 } as const;
    expect(cells(benchTable([{ ...step, inR }]))).toEqual([
      "a step",
      "10",
      "0.750",
      "counts 0.500 + estimator 0.250",
      "0.750",
      "100",
      "1.500",
      "2.0",
      "0e+0",
    ]);
  });

  it("says where R did not finish", () => {
    const inR = { finished: false, reason: "did not finish" } as const;
    expect(cells(benchTable([{ ...step, inR }]))?.at(-1)).toBe("did not finish");
  });
});
