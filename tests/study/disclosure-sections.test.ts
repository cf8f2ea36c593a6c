import { describe, expect, it } from "vitest";
import { cellsOf } from "../../src/disclosure/cleared-cells.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import type { Cell, Exhibit } from "../../src/disclosure/exhibit.ts";
import type { StudyFacts } from "../../src/study/facts.ts";
import { runStudy } from "../../src/study/run.ts";
import { feasibility } from "../../src/study/sections/feasibility.ts";
import { logRankExhibit } from "../../src/study/sections/log-rank.ts";
import { methods } from "../../src/study/sections/methods.ts";
import { clusterNumberWords, clusterWords } from "../../src/study/words.ts";
import { smallStudy } from "./small-export.ts";

const run = async (...args: Parameters<typeof smallStudy>) => {
  const { study, source } = smallStudy(...args);
  return runStudy(study, source);
};

const tableOf = (exhibits: readonly Exhibit[], id: string) => {
  const found = exhibits.find((exhibit) => exhibit.id === id);
  if (found?.kind !== "table") throw new Error(`no table ${id}`);
  return found;
};

describe("the words for clusters", () => {
  const facts = (by: "surgeon" | "patient" | "none", clusters: number) =>
    ({
      clusters: { by, clusters, fewestInGroup: 2, reason: "" },
      words: { unit: { one: "knee", many: "knees" } },
      // Only these are read.
    }) as StudyFacts;

  it("never hold a number before the audience is known", () => {
    for (const by of ["surgeon", "patient", "none"] as const) {
      expect(clusterWords(facts(by, 237))).not.toMatch(/\d/);
    }
  });

  it("say how many surgeons there are from the threshold up, and never how many patients", () => {
    expect(clusterNumberWords(facts("surgeon", 4), 5)).toBe(", of whom there are few");
    expect(clusterNumberWords(facts("surgeon", 5), 5)).toBe(", of whom there are 5");
    expect(clusterNumberWords(facts("surgeon", 5), 10)).toBe(", of whom there are few");
    expect(clusterNumberWords(facts("surgeon", 4), 0)).toBe(", of whom there are 4");
    expect(clusterNumberWords(facts("patient", 237), 0)).toBe("");
  });
});

describe("a study's exhibits", () => {
  it("say that all events are those of the groups, wherever events stand", async () => {
    const { estimates, facts } = await run();
    for (const exhibits of [feasibility.exhibits(estimates, facts), [logRankExhibit(estimates, facts)]]) {
      const relations = exhibits.flatMap((exhibit) =>
        exhibit.kind === "table" ? (exhibit.relations ?? []) : [],
      );
      expect(relations.map(({ parts }) => parts.map(({ units }) => units))).toContainEqual(
        estimates.compared.map(({ events }) => events.units),
      );
    }
  });

  it("rest a clustered statistic on the number of surgeons, which it gives together with its p", async () => {
    const { exhibits, facts } = await run({ clusters: "surgeon" }, { knees: 3000, surgeons: 4, centres: 1 });
    expect(facts.clusters).toMatchObject({ by: "surgeon", clusters: 4 });
    const [clustered, plain] = tableOf(exhibits, "log-rank").rows.filter(({ label }) => /^Test/.test(label));
    const surgeons = [clustered, plain].map((row) => {
      const cell = row?.cells.at(-2);
      return cell?.kind === "statistic" ? cell.restsOn.filter(({ key }) => key.startsWith("clusters/")) : [];
    });
    expect(surgeons).toEqual([[{ key: "clusters/surgeon", units: 4 }], []]);
  });

  it("rest a standardised difference on every category, however many there are", async () => {
    const { exhibits, estimates } = await run({ covariates: ["role:asaGrade"] });
    const categories = estimates.covariates.covariates.flatMap((row) =>
      row.kind === "code" ? row.categories.map(({ label }) => label) : [],
    );
    expect(categories.length).toBeGreaterThan(2);
    const differences = tableOf(exhibits, "covariates")
      .rows.flatMap(({ cells }) => cells)
      .filter((cell): cell is Extract<Cell, { kind: "number" }> => cell.kind === "number");
    const parts = differences[0]?.restsOn.filter(({ key }) => key.includes("/is:")) ?? [];
    expect(parts).toHaveLength(2 * categories.length);
  });

  it("hide a finding that counts the few whom the flow has without time under observation", async () => {
    const { estimates, facts } = await run();
    // Seven knees of four patients: the finding alone counts seven rows.
    const leftOut = { units: 7, persons: 4 };
    const finding = { code: "ends-before-operation", severity: "warning", count: 7, first: [] } as const;
    const findings = { errors: 0, warnings: 7, notes: 0, groups: [finding] };
    const cleared = disclose(
      methods.exhibits({ ...estimates, leftOut }, { ...facts, findings }),
      "committee",
    );
    expect(cleared.exhibits.flatMap(cellsOf).at(-1)).toMatchObject({ text: "hidden", values: [] });
  });
});
