import { describe, expect, it } from "vitest";
import { runStudy } from "../../src/study/run.ts";
import { smallStudy } from "./small-export.ts";

async function choice(
  plan: Parameters<typeof smallStudy>[0],
  options: Parameters<typeof smallStudy>[1] = {},
) {
  const { study, source } = smallStudy(plan, options);
  return (await runStudy(study, source)).facts.clusters;
}

/** Takes a role away from the field that carries it. */
const withoutRole = (role: string) => (descriptor: Record<string, unknown>) =>
  JSON.parse(JSON.stringify(descriptor).replace(`"role":"${role}"`, '"description2":""'));

describe("chooseClusters()", () => {
  it("takes the surgeon for a step that surgeons choose", async () => {
    const chosen = await choice({});
    expect(chosen).toMatchObject({ by: "surgeon", clusters: 12 });
    expect(chosen.reason).toMatch(/Over half of the variance/);
  });

  it("takes the patient for what does not follow the surgeon", async () => {
    const chosen = await choice({ exposure: { field: "sex", groups: ["female", "male"] } });
    expect(chosen.by).toBe("patient");
    expect(chosen.reason).toMatch(/not over half/);
  });

  it("takes the patient, and says why, where no field names the surgeon", async () => {
    const chosen = await choice({}, { descriptor: withoutRole("surgeon") });
    expect(chosen.by).toBe("patient");
    expect(chosen.reason).toMatch(/No field names the surgeon/);
  });

  it("refuses a level that the plan names and the export does not hold", async () => {
    await expect(choice({ clusters: "surgeon" }, { descriptor: withoutRole("surgeon") })).rejects.toThrow(
      /clusters.*surgeon/,
    );
  });

  it("obeys a plan that declares independence", async () => {
    expect(await choice({ clusters: "none" })).toMatchObject({ by: "none" });
  });
});
