import { describe, expect, it } from "vitest";
import { compare } from "../../src/cli/commands/compare.ts";
import { saidBy } from "./small-project.ts";

const [first, second] = ["reports/tourniquet-and-loosening", "reports/movement-before-set"];

describe("mantle compare of two questions", () => {
  it("says so and stops, unless all differences are asked for", async () => {
    const brief = await saidBy(() => compare(first, second));
    expect(brief.code).toBe(1);
    expect(brief.said).toBe(
      "Another question: tourniquet-and-loosening → movement-before-set.\n" +
        "Compare two versions of one report, or add --all to list every difference.",
    );
    const all = await saidBy(() => compare(first, second, { all: true }));
    expect(all.said).toMatch(/^Another question: .*\nThe reports differ/);
  });
});
