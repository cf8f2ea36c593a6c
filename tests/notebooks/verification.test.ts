import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { seriesCheck, valueCheck } from "../../notebooks/verification/check.ts";
import { verifiedMethods } from "../../notebooks/verification/methods.ts";
import { differenceText, numberText } from "../../notebooks/verification/number-text.ts";
import { checksOf, TOTAL, verdictOf } from "../../notebooks/verification/tables.ts";
import report from "../../notebooks/verification.ts";
import { disclose } from "../../src/disclosure/disclose.ts";
import { ownReportFiles } from "../../src/study/making/own-report-files.ts";
import { notebookSource } from "../../src/study/notebook/notebook-source.ts";
import { EXACT } from "../reference/tolerance.ts";

const ROOT = join(import.meta.dirname, "..", "..");
const NOTEBOOK = join(ROOT, "notebooks", "verification.ts");

const methods = verifiedMethods();
const checks = methods.flatMap(checksOf);

describe("the verification report", () => {
  it("finds every value within the tolerance of its reference", () => {
    expect(checks.filter(({ fault }) => fault !== undefined)).toEqual([]);
    expect(checks.every(({ values, agreeing }) => values > 0 && agreeing === values)).toBe(true);
    expect(methods.length).toBeGreaterThanOrEqual(13);
    expect(checks.reduce((sum, { values }) => sum + values, 0)).toBeGreaterThan(3000);
  });

  it("lets no reference differ by more than 1e-8, and none that is exact by anything", () => {
    const widest = Math.max(...checks.map(({ tolerance }) => tolerance.relative));
    expect(widest).toBeLessThanOrEqual(1e-8);
    // The only absolute tolerances are those of log gamma and the quantiles, which may be 0.
    expect(Math.max(...checks.map(({ tolerance }) => tolerance.absolute))).toBeLessThanOrEqual(1e-14);
  });

  it("meets every printed figure but four, and says why each of those differs", () => {
    const differing = checks.filter(({ print }) => print?.agrees === false);
    expect(differing.map(({ quantity }) => quantity)).toEqual([
      "Chi-square, early 3, late 1 (Fleming–Harrington)",
      "Chi-square, early 1, late 3 (Fleming–Harrington)",
      "Log hazard ratio asked for",
      "Events required (Schoenfeld), whole",
    ]);
    expect(differing.every(({ print }) => (print?.because ?? "").length > 20)).toBe(true);
    expect(checks.filter(({ print }) => print?.agrees === true).length).toBeGreaterThan(60);
  });

  it("names every function of survival, summaries and planning that the package exports", () => {
    const index = readFileSync(join(ROOT, "src", "index.ts"), "utf8");
    const exported = [
      ...index.matchAll(/export \{([^}]*)\} from "\.\/(?:survival|summaries|planning)\//g),
    ].flatMap(([, names = ""]) => names.split(",").map((name) => name.trim()));
    const functions = exported.filter((name) => /^[a-z]/.test(name) && !name.startsWith("type "));
    expect(functions.length).toBeGreaterThanOrEqual(15);
    const named = new Set(methods.flatMap((method) => method.functions));
    expect(functions.filter((name) => !named.has(name))).toEqual([]);
  });

  it("calls every function that it names", () => {
    const folder = join(ROOT, "notebooks", "verification");
    const source = readdirSync(folder, { recursive: true, encoding: "utf8" })
      .filter((name) => name.endsWith(".ts"))
      .map((name) => readFileSync(join(folder, name), "utf8"))
      .join("\n");
    const named = new Set(methods.flatMap((method) => method.functions));
    expect([...named].filter((name) => !source.includes(`${name}(`))).toEqual([]);
  });

  it("holds nothing that is no number, and is the same to the byte when made again", async () => {
    const made = async () => {
      const cleared = disclose(await report.exhibits(), "committee");
      return ownReportFiles(report, cleared, notebookSource(NOTEBOOK));
    };
    const [first, second] = [await made(), await made()];
    expect([...first]).toEqual([...second]);
    for (const [path, text] of first) {
      if (path === "index.html" || path === "results.json" || path.endsWith(".csv")) {
        expect(text.match(/NaN|Infinity|undefined|not a number|no common value/g), path).toBeNull();
      }
    }
    const page = first.get("index.html") ?? "";
    expect(page).toContain("figures and places from memory");
    for (const { title } of methods) expect(page).toContain(title.replaceAll("'", "&#39;"));
  });

  it("sums its checks in the first table", async () => {
    const [summary] = await report.exhibits();
    if (summary?.kind !== "table") throw new Error("the first exhibit is the summary");
    expect(summary.rows.map(({ label }) => label)).toEqual([...methods.map(({ title }) => title), TOTAL]);
    const total = checks.reduce((sum, { values }) => sum + values, 0);
    expect(summary.rows.at(-1)?.cells.slice(0, 2)).toEqual([
      { kind: "text", text: String(total) },
      { kind: "text", text: String(total) },
    ]);
  });

  it("rests on the version of R that its headings name", () => {
    const folder = join(ROOT, "tests", "reference", "values");
    const made = readdirSync(folder).map((name) => JSON.parse(readFileSync(join(folder, name), "utf8")));
    expect(made.every(({ generatedWith }) => generatedWith.startsWith("R version 4.2.2"))).toBe(true);
  });
});

describe("a verdict", () => {
  const loose = { relative: 1e-6, absolute: 0 };

  it("says that a value beyond its tolerance differs", () => {
    expect(verdictOf(valueCheck("x", 1.000_002, 1, loose))).toBe("differs: beyond the tolerance");
    expect(verdictOf(seriesCheck("x", [1, 2.1, 3], [1, 2, 3], loose))).toBe(
      "differs: 1 of 3 values lie beyond the tolerance",
    );
    expect(verdictOf(valueCheck("x", 1.000_000_1, 1, loose))).toBe("agrees");
    expect(verdictOf(valueCheck("x", 1.000_000_1, 1, EXACT))).toBe("differs: beyond the tolerance");
  });

  it("never agrees where one side has no value, is no number, or where values are missing", () => {
    expect(valueCheck("x", Number.NaN, 1, loose).fault).toBeDefined();
    expect(valueCheck("x", Number.POSITIVE_INFINITY, 1, loose).fault).toBeDefined();
    expect(valueCheck("x", null, 1, loose).fault).toBeDefined();
    expect(valueCheck("x", undefined, 1, loose).fault).toBeDefined();
    expect(valueCheck("x", 0, "NaN", loose).fault).toBeDefined();
    expect(seriesCheck("x", [1], [1, 2], loose).fault).toBe("1 of 2 values are there");
    expect(seriesCheck("x", [], [], loose).fault).toBe("no value was compared");
    expect(valueCheck("x", null, "NaN", EXACT).fault).toBeUndefined();
  });

  it("shows the value that lies farthest off", () => {
    expect(seriesCheck("x", [1, 2.2, 3.1], [1, 2, 3], loose)).toMatchObject({ ours: 2.2, reference: 2 });
  });

  it("compares a printed figure with the computed value, rounded", () => {
    const print = (figure: number) =>
      valueCheck("x", 0.8571, 0.8571, EXACT, { figure, decimals: 3 }).print?.agrees;
    expect([print(0.857), print(0.858)]).toEqual([true, false]);
  });
});

describe("a number in the report", () => {
  it("has ten significant figures, and a power of ten where it is tiny", () => {
    expect(numberText(16.792_940_99)).toBe("16.79294099");
    expect(numberText(0.002_084_308_54)).toBe("0.002084308540");
    expect(numberText(-0.5)).toBe("−0.5000000000");
    expect(numberText(4.168_809e-5)).toBe("4.168809000 × 10⁻⁵");
    expect(numberText(21)).toBe("21");
    expect(numberText(null)).toBe("none");
  });

  it("has a difference of one figure", () => {
    expect([0, 2.22e-16, 1.1e-13].map(differenceText)).toEqual(["0", "2 × 10⁻¹⁶", "10⁻¹³"]);
  });
});
