import { readFileSync } from "node:fs";
import { beforeAll, describe, expect, it } from "vitest";
import { dayNumber } from "../../src/base/day-number.ts";
import { descriptorSchema } from "../../src/cases/descriptor.ts";
import { isFieldRole } from "../../src/cases/roles.ts";
import { type SyntheticExport, syntheticExport } from "../../src/synthetic/index.ts";
import { cellsByField, column, csvText, mean } from "./helpers.ts";

const demo = (name: string) => readFileSync(new URL(`../../data/demo/${name}`, import.meta.url), "utf8");

let invented: SyntheticExport;
let columns: Map<string, string[]>;
const cells = (name: string) => column(columns, name);

beforeAll(() => {
  invented = syntheticExport();
  columns = cellsByField(demo("cases.csv"));
}, 60_000);

describe("the files in data/demo", () => {
  it("are what the generator writes without options, byte for byte", () => {
    expect(csvText(invented) === demo("cases.csv")).toBe(true);
    expect(`${JSON.stringify(invented.descriptor, null, 2)}\n` === demo("datapackage.json")).toBe(true);
    expect(invented.note === demo("README.md")).toBe(true);
  });

  it("say in the descriptor, the note and every row that they are invented", () => {
    const { study, title, description } = invented.descriptor;
    expect(study.invented).toBe(true);
    expect(title).toMatch(/invented/i);
    expect(description).toContain(study.stamp);
    expect(invented.note).toContain(study.stamp);
    expect(new Set(cells("invented"))).toEqual(new Set(["invented"]));
  });

  it("stay under 2 MB and hold nothing that would need a quote", () => {
    const text = demo("cases.csv");
    expect(Buffer.byteLength(text)).toBeLessThan(2_000_000);
    expect(text).toMatch(/^[\w,.\n-]+$/);
  });
});

describe("the dictionary of the demo", () => {
  it("is a valid descriptor that the schema leaves as it is", () => {
    const raw: unknown = JSON.parse(demo("datapackage.json"));
    expect(descriptorSchema.parse(raw)).toEqual(raw);
  });

  it("lists the fields of the file in their order, each titled, described and with a known role", () => {
    const fields = invented.descriptor.resources[0]?.schema.fields ?? [];
    expect(fields.map(({ name }) => name)).toEqual([...columns.keys()]);
    for (const { name, title, description, role } of fields) {
      expect(`${title}${description}`.length, name).toBeGreaterThan(10);
      expect(role === undefined ? name === "invented" : isFieldRole(role), name).toBe(true);
    }
    const roles = fields.flatMap(({ role }) => role ?? []);
    expect(new Set(roles).size).toBe(roles.length);
  });

  it("accounts for every cell by category, missing value, type and limits", () => {
    for (const field of invented.descriptor.resources[0]?.schema.fields ?? []) {
      const { name, type, categories, missingValues = [], constraints = {} } = field;
      const missing = new Set(missingValues.map((entry) => entry.value));
      expect(constraints.required === true && missing.size > 0, name).toBe(false);
      const known = new Set(categories?.map(({ value }) => value));
      const faulty = cells(name).filter((cell) => {
        if (missing.has(cell)) return false;
        if (categories !== undefined) return !known.has(cell);
        if (type === "date") return dayNumber(cell) === undefined || outside(cell, constraints);
        if (type === "integer") return !/^\d+$/.test(cell) || outside(Number(cell), constraints);
        if (type === "number") return !/^\d+\.\d$/.test(cell) || outside(Number(cell), constraints);
        return cell === "";
      });
      expect(faulty.length, name).toBe(0);
      // Every word and every missing reason that is listed occurs.
      const seen = new Set(cells(name));
      expect(
        [...known, ...missing].filter((word) => !seen.has(word)),
        name,
      ).toEqual([]);
    }
  });
});

function outside<Value extends number | string>(
  value: Value,
  limits: { minimum?: number | string | undefined; maximum?: number | string | undefined },
): boolean {
  const { minimum, maximum } = limits;
  return (minimum !== undefined && value < minimum) || (maximum !== undefined && value > maximum);
}

describe("the rows of the demo", () => {
  it("are 8,000 knees of patients of whom 24 % have both knees, one on each side", () => {
    const sides = new Map<string, string[]>();
    cells("patient_id").forEach((patient, row) => {
      sides.set(patient, [...(sides.get(patient) ?? []), cells("side")[row] ?? ""]);
    });
    const both = [...sides.values()].filter((list) => list.length === 2);
    expect(cells("case_id").length).toBe(8000);
    expect(new Set(cells("case_id")).size).toBe(8000);
    expect(both.length + sides.size).toBe(8000);
    expect(both.every(([first, second]) => first !== second)).toBe(true);
    // Planted share 24 %; three binomial standard errors at some 6,450 patients are 1.6 points.
    expect(Math.abs(both.length / sides.size - 0.24)).toBeLessThan(0.016);
  });

  it("keep their dates in order: operation, then revision, up to the last follow-up at the data cut", () => {
    const faults = cells("operation_date").filter((operated, row) => {
      const at = (name: string) => cells(name)[row] ?? "";
      const last = at("last_follow_up_date");
      const ends = at("death_date") || at("emigration_date") || "2024-12-31";
      const revised = at("revision_date");
      const bothEnds = at("death_date") !== "" && at("emigration_date") !== "";
      return (
        bothEnds ||
        last !== ends ||
        last <= operated ||
        (revised !== "" && (revised <= operated || revised > last))
      );
    });
    expect(faults.length).toBe(0);
    const weekdays = new Set(cells("operation_date").map((date) => ((dayNumber(date) ?? 0) + 4) % 7));
    expect([...weekdays].sort()).toEqual([1, 2, 3, 4, 5]);
  });

  it("give a reason exactly where there is a revision, and a component exactly where it is loosening", () => {
    const faults = cells("revision_date").filter((revised, row) => {
      const reason = cells("revision_reason")[row];
      const component = cells("loosened_component")[row];
      return (revised === "") !== (reason === "") || (reason === "loosening") !== (component !== "");
    });
    expect(faults.length).toBe(0);
  });

  it("carry one death date for both knees of a patient", () => {
    const deaths = new Map<string, Set<string>>();
    cells("patient_id").forEach((patient, row) => {
      deaths.set(patient, (deaths.get(patient) ?? new Set()).add(cells("death_date")[row] ?? ""));
    });
    expect([...deaths.values()].filter((dates) => dates.size > 1).length).toBe(0);
    expect([...deaths.values()].filter((dates) => !dates.has("")).length).toBeGreaterThan(1000);
  });

  it("call drilling not applicable exactly where bone is not sclerotic", () => {
    const faults = cells("drilling").filter(
      (word, row) => (word === "na") !== (cells("sclerosis")[row] === "none"),
    );
    expect(faults.length).toBe(0);
  });

  it("date a record exactly where there is one, some later than the operation, a few after the revision", () => {
    for (const field of ["tourniquet", "still_until_set"]) {
      const dates = cells(`${field}_recorded_on`);
      expect(dates.filter((date, row) => (date === "") !== (cells(field)[row] === "nr")).length).toBe(0);
      const dated = dates.flatMap((date, row) => (date === "" ? [] : [{ date, row }]));
      expect(dated.filter(({ date, row }) => date < (cells("operation_date")[row] ?? "")).length).toBe(0);
      const sameDay =
        dated.filter(({ date, row }) => date === cells("operation_date")[row]).length / dated.length;
      expect(sameDay).toBeGreaterThan(0.9);
      expect(sameDay).toBeLessThan(0.94);
      const afterRevision = dated.filter(({ date, row }) => {
        const revised = cells("revision_date")[row] ?? "";
        return revised !== "" && date > revised;
      });
      expect(afterRevision.length).toBeGreaterThan(2);
      expect(afterRevision.length).toBeLessThan(30);
    }
  });

  it("leave over half of the variance of the tourniquet between surgeons, and let it fall with the years", () => {
    const known = cells("tourniquet").flatMap((word, row) =>
      word === "nr" ? [] : [{ done: word === "yes" ? 1 : 0, row }],
    );
    const overall = mean(known.map(({ done }) => done));
    const surgeons = [...new Set(cells("surgeon"))];
    const between = surgeons.reduce((sum, surgeon) => {
      const own = known.filter(({ row }) => cells("surgeon")[row] === surgeon).map(({ done }) => done);
      return sum + own.length * (mean(own) - overall) ** 2;
    }, 0);
    expect(between / known.length / (overall * (1 - overall))).toBeGreaterThan(0.5);
    const inYears = (from: string, to: string) =>
      mean(
        known
          .filter(({ row }) => {
            const year = (cells("operation_date")[row] ?? "").slice(0, 4);
            return from <= year && year <= to;
          })
          .map(({ done }) => done),
      );
    expect(inYears("2008", "2010")).toBeGreaterThan(0.65);
    expect(inYears("2020", "2022")).toBeLessThan(0.55);
  });
});
