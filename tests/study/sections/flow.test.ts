import { describe, expect, it } from "vitest";
import { disclose } from "../../../src/disclosure/disclose.ts";
import type { FlowExhibit } from "../../../src/disclosure/exhibit.ts";
import { clearedView } from "../../../src/study/making/view.ts";
import { runStudy } from "../../../src/study/run.ts";
import { personsTwice } from "../../../src/study/sections/flow.ts";
import { smallStudy } from "../small-export.ts";

const count = (key: string, units: number, persons = units) => ({ key, units, persons });
const part = (label: string, units: number, persons: number) => ({
  label,
  units: count(`u/${label}`, units, persons),
  persons: count(`p/${label}`, persons),
});
/** `both` persons own a unit in each group. */
const flowWith = (both: number): FlowExhibit => ({
  kind: "flow",
  id: "flow",
  title: "Flow",
  unitWord: "knees",
  personWord: "patients",
  boxes: [part("compared", 900, 700 - both)],
  groups: [part("with", 500, 400), part("without", 400, 300)],
});

describe("personsTwice()", () => {
  it("names how many persons stand in two groups", () => {
    const relations = personsTwice(flowWith(40));
    expect(relations.map(({ total }) => total.units)).toEqual([700, 700]);
    expect(relations[1]?.parts.map(({ units }) => units)).toEqual([660, 40]);
    expect(personsTwice(flowWith(0))).toEqual([]);
  });

  it("keeps a committee from counting few of them", () => {
    const shownWith = (both: number) => {
      const flow = flowWith(both);
      const carrier = {
        kind: "table",
        id: "carrier",
        title: "Carrier",
        columns: [{ id: "a", label: "A" }],
        rows: [],
        relations: personsTwice(flow),
      } as const;
      const found = clearedView(disclose([flow, carrier], "committee")).flow("flow");
      return [...(found?.boxes ?? []), ...(found?.groups ?? [])].map(({ persons }) => persons?.hidden);
    };
    expect(shownWith(40)).toEqual([false, false, false]);
    expect(shownWith(3)).toContain(true);
  });
});

describe("the flow of a study", () => {
  it("counts patients in every box", async () => {
    const { study, source } = smallStudy();
    const view = clearedView(disclose((await runStudy(study, source)).exhibits, "analyst"));
    const flow = view.flow("flow");
    const parts = [
      ...(flow?.boxes ?? []),
      ...(flow?.boxes ?? []).flatMap(({ removed }) => removed),
      ...(flow?.groups ?? []),
    ];
    expect(parts.length).toBeGreaterThan(5);
    expect(parts.filter(({ persons }) => persons === undefined)).toEqual([]);
  });

  it("says how many knees of each state were written down too late to count", async () => {
    const { study, source } = smallStudy({}, { knees: 6000 });
    const { estimates, exhibits } = await runStudy(study, source);
    const late = estimates.recording?.writtenLate ?? [];
    expect(late.reduce((sum, { size }) => sum + size.units, 0)).toBe(
      estimates.recording?.recordedAfterRevision,
    );
    const rows = clearedView(disclose(exhibits, "analyst"))
      .table("recording")
      ?.rows.filter(({ indent }) => indent === 1);
    expect(rows?.map(({ label, cells }) => [label, cells[0]?.values[0]])).toEqual(
      late.map(({ label, size }) => [`written late: ${label}`, size.units]),
    );
    expect(rows?.length).toBeGreaterThan(0);
  });
});
