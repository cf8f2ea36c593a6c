import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { disclose } from "../../../src/disclosure/disclose.ts";
import { clearedView } from "../../../src/study/making/view.ts";
import { runStudy } from "../../../src/study/run.ts";
import { findings } from "../../../src/study/sections/findings.ts";
import { PLAN, smallStudy } from "../small-export.ts";

async function found(audience: "committee" | "analyst") {
  const { study, source } = smallStudy({ covariates: [...PLAN.covariates, "role:bmi"] }, { knees: 2500 });
  const run = await runStudy(study, source);
  const view = clearedView(disclose(run.exhibits, audience));
  return { view, said: findings(view, run.facts) };
}

describe("the sentence above a figure", () => {
  it("names the covariates that differ most, largest first, and the field recorded least", async () => {
    const { view, said } = await found("analyst");
    const apart = (view.table("covariates")?.rows ?? []).flatMap(({ label, cells }) => {
      const value = cells.at(-1)?.values[0];
      return value === undefined ? [] : [{ label, size: Math.abs(value) }];
    });
    const [first, second] = apart.sort((one, other) => other.size - one.size);
    expect(said.get("covariates")).toMatch(
      new RegExp(`^Least alike: ${first?.label} .* and ${second?.label} `),
    );
    expect(said.get("completeness")).toMatch(
      /^Least complete: Body-mass index \(“with” [\d.]+ %, “without” [\d.]+ %\)\.$/,
    );
  });

  it("counts who is compared as the flow does", async () => {
    const { view, said } = await found("analyst");
    const flow = view.flow("flow");
    const groups = flow?.groups.map(({ units, label }) => `${units.text} “${label}”`).join(" and ");
    expect(said.get("flow")).toBe(
      `Of ${flow?.boxes[0]?.units.text} knees, ${flow?.boxes.at(-1)?.units.text} are compared: ${groups}.`,
    );
  });

  it("says nothing where its numbers are hidden", async () => {
    const { view, said } = await found("committee");
    const [cell] = view.table("risk-at-years")?.rows[1]?.cells ?? [];
    expect(said.has("crude-risk")).toBe((cell?.values.length ?? 0) > 0);
    for (const words of said.values()) expect(words).not.toMatch(/undefined|NaN|^.*: \.$/);
  });

  it("is part of the name of the picture, and stands above it", () => {
    const folder = join(import.meta.dirname, "../../../reports/tourniquet-and-loosening");
    const page = readFileSync(join(folder, "index.html"), "utf8");
    const sentence = /<strong class="finding" dir="auto">(Estimated rate[^<]*)</.exec(page)?.[1] ?? "";
    expect(sentence).toContain("lower at 0–3 years and at 3–5 years, higher over 5 years");
    const svg = readFileSync(join(folder, "figures/rates.svg"), "utf8");
    expect(/<title[^>]*>([^<]*)</.exec(svg)?.[1]).toContain(sentence);
  });
});
