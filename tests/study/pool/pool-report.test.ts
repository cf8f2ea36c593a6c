import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, onTestFinished, vi } from "vitest";
import { UsageError } from "../../../src/base/errors.ts";
import { pool } from "../../../src/cli/commands/pool.ts";
import type { Audience } from "../../../src/disclosure/audience.ts";
import { poolReport } from "../../../src/study/pool/pool-report.ts";
import { sizeOfUnits } from "../../../src/study/pool/pool-sizes.ts";
import { changed, descriptorOf, EXAMPLE, type Json, writeCounts } from "./pool-sources.ts";

const QUESTION = { years: [5, 10], periods: [3, 5], id: "pooled" };
const report = (audience: Audience, paths = EXAMPLE, question: Json = {}) =>
  poolReport(paths, { ...QUESTION, ...question, audience });

/** Rows that leave `cases` knees censored at `time` in each group. */
const everybody = (cases: number, time: number) =>
  ["group,time,at_risk,loosenings,other_revisions,deaths,censored"]
    .concat(["tourniquet", "no tourniquet"].map((group) => `${group},${time},${cases},0,0,0,${cases}`))
    .join("\n");

describe("poolReport()", () => {
  it("holds page, results, figures and tables, all stamped where the counts are invented", () => {
    const files = report("analyst");
    expect([...files.keys()].sort()).toEqual([
      "figures/crude-and-net-risk.svg",
      "figures/crude-risk.svg",
      "figures/net-risk.svg",
      "index.html",
      "results.json",
      "tables/crude-risk.csv",
      "tables/limits.csv",
      "tables/log-rank.csv",
      "tables/net-risk.csv",
      "tables/rates.csv",
      "tables/risk-at-years.csv",
      "tables/sources.csv",
    ]);
    for (const [, text] of files) expect(text).toContain("INVENTED DATA");
  });

  it("gives the same bytes for the same counts wherever they lie", () => {
    const elsewhere = EXAMPLE.map((path) => {
      const folder = writeCounts("", descriptorOf(path));
      for (const name of ["counts.csv", "counts.json"]) {
        writeFileSync(join(folder, name), readFileSync(join(path, name)));
      }
      return folder;
    });
    expect([...report("committee", elsewhere)]).toEqual([...report("committee")]);
  });

  it("says who sent how many, and that they add up", () => {
    expect(report("analyst").get("tables/sources.csv")).toMatch(
      /Invented centre C1,976,899,1875,[\s\S]*All sources,4534,2797,7331,/,
    );
  });

  it("answers what needs rows in words, one by one", () => {
    const limits = report("analyst").get("tables/limits.csv") ?? "";
    const answers = limits.split("\n").filter((line) => line.includes("cannot be computed from counts"));
    expect(answers).toHaveLength(6);
    for (const word of ["clustered", "Completeness", "Covariate table", "regression", "one person", "age"]) {
      expect(limits).toContain(word);
    }
  });

  it("labels the test as not clustered and compares no groups in the brief", () => {
    const page = report("committee").get("index.html") ?? "";
    expect(page).toContain("log-rank, not clustered");
    expect(page).toContain("clusters cannot be seen in counts");
    const brief = page.slice(page.indexOf('class="brief"'), page.indexOf("Who sent what</h2>"));
    expect(brief).toContain("Whether the groups differ is not answered on this page");
    expect(brief).not.toContain("minus");
    expect(brief).not.toMatch(/\bp (=|<)/);
  });

  it("shows the first digits of each hash, and keeps the whole in results.json", () => {
    const files = report("committee");
    const page = files.get("index.html") ?? "";
    const { sources, hashes } = JSON.parse(files.get("results.json") ?? "");
    const all: string[] = sources.flatMap((source: Record<string, string>) => [
      source.fileHash,
      source.descriptorHash,
    ]);
    for (const hash of [...all, hashes.lock]) {
      expect(hash).toMatch(/^[0-9a-f]{64}$/);
      expect(page).toContain(`${hash.slice(0, 12)}…`);
      expect(page).not.toContain(hash.slice(0, 13));
    }
  });

  it("cautions about single events, exactness and links, by the unit of time", () => {
    const months = report("committee").get("index.html") ?? "";
    for (const words of [
      "analyst data",
      "by month, which is safer to share than by day and not exact",
      "cannot be linked",
    ]) {
      expect(months).toContain(words);
    }
    const day = changed(EXAMPLE[0] ?? "", { timeUnit: "day", invented: false, stamp: undefined });
    const page = report("committee", [day]).get("index.html") ?? "";
    expect(page).toContain("by day: every number here is the one that the rows");
    expect(page).not.toContain("INVENTED");
  });

  it("hides small counts from all but analysts, reckoning with two knees of each person", () => {
    const rates = (audience: Audience) => report(audience).get("tables/rates.csv") ?? "";
    // 6 events may be those of 3 persons, 10 of 5.
    expect(rates("analyst")).toMatch(/no tourniquet,6,/);
    expect(rates("committee")).not.toMatch(/no tourniquet,6,/);
    const committee = JSON.stringify([...report("committee")]);
    expect(committee).toContain("the fewest people possible");
    const single = EXAMPLE.map((path) => changed(path, { mostPerPerson: 1 }));
    expect(report("committee", single).get("tables/rates.csv")).toMatch(/no tourniquet,6,/);
    expect([0, 1, 2, 5].map((units) => sizeOfUnits(units, { mostPerPerson: 2 }).persons)).toEqual([
      0, 1, 1, 3,
    ]);
  });

  it("gives no crude risk where one source does not capture every death, or none is counted", () => {
    const [first = "", ...rest] = EXAMPLE;
    const own = report("analyst", [changed(first, { deathCapture: "ownUnit" }), ...rest]);
    expect(own.has("figures/crude-risk.svg")).toBe(false);
    expect(own.get("index.html")).toContain("Crude risk is not given: not every source captures deaths");
    const causes = (descriptorOf(first).causes as Json[]).map((cause) => ({ ...cause, death: false }));
    const page = report("analyst", [changed(first, { causes })]).get("index.html");
    expect(page).toContain("no cause of the counts is marked as death");
  });

  it("says so where sources differ in data cut, meaning or capture", () => {
    const [first = "", second = ""] = EXAMPLE;
    const other = changed(second, {
      dataCut: "2020-12-31",
      revisionMeans: "any",
      revisionCapture: "unknown",
    });
    const page = report("committee", [first, other]).get("index.html") ?? "";
    for (const words of [
      "not counted on the same data cut",
      "do not say the same about what counts",
      "others may be missing",
    ]) {
      expect(page).toContain(words);
    }
  });

  it("says instead of computing where nothing happened, where too few were expected, or follow-up is short", () => {
    const groups = (cases: number) => ["tourniquet", "no tourniquet"].map((label) => ({ label, cases }));
    const nothing = writeCounts(everybody(60, 30), { ...descriptorOf(EXAMPLE[0] ?? ""), groups: groups(60) });
    const files = report("analyst", [nothing]);
    expect(files.get("tables/log-rank.csv")).toContain("no event was seen in any group");
    const text = [...files.values()].join("");
    expect(text).not.toMatch(/NaN|Infinity|undefined/);
    const few = everybody(60, 30).replace("tourniquet,30,60,0,0,0,60", "tourniquet,30,60,1,0,0,59");
    const rank = report("analyst", [
      writeCounts(few, { ...descriptorOf(EXAMPLE[0] ?? ""), groups: groups(60) }),
    ]);
    expect(rank.get("tables/log-rank.csv")).toContain("not given: fewer than 5 revisions expected");
  });

  it("prints one period where none is asked for, and compares within strata where there are some", () => {
    const [first = ""] = EXAMPLE;
    const strata = changed(first, { strata: ["all of them"] }, (csv) =>
      csv
        .trimEnd()
        .split("\n")
        .map((line, at) => `${line},${at === 0 ? "stratum" : "all of them"}`)
        .join("\n"),
    );
    const files = report("analyst", [strata], { periods: [] });
    expect(files.get("tables/rates.csv")?.match(/over 0 years/g)).toHaveLength(1);
    expect(files.get("tables/log-rank.csv")).not.toContain("within each source");
  });
});

describe("mantle pool", () => {
  const options = (out: string) => ({ out, audience: "committee", years: "5,10", periods: "3,5" });
  function outFolder(): string {
    const folder = mkdtempSync(join(tmpdir(), "mantle-pool-"));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    return join(folder, "pooled");
  }

  it("writes the report, says where, and replaces it the next time", async () => {
    const said = vi.spyOn(console, "log").mockImplementation(() => {});
    onTestFinished(() => said.mockRestore());
    const out = outFolder();
    expect(await pool(EXAMPLE, options(out))).toBe(0);
    expect(said).toHaveBeenCalledWith(join(out, "index.html"));
    writeFileSync(join(out, "tables", "left-over.csv"), "old");
    expect(await pool(EXAMPLE.slice(0, 2), { ...options(out), periods: "none" })).toBe(0);
    expect(existsSync(join(out, "tables", "left-over.csv"))).toBe(false);
    expect(JSON.parse(readFileSync(join(out, "results.json"), "utf8"))).toMatchObject({
      id: "pooled",
      audience: "committee",
      settings: { years: [5, 10], periods: [] },
    });
  });

  it("writes nothing where the counts or the options cannot be used", async () => {
    const out = outFolder();
    const wrong: [readonly string[], object][] = [
      [[EXAMPLE[0] ?? "", EXAMPLE[0] ?? ""], {}],
      [["nowhere"], {}],
      [EXAMPLE, { years: "10,5" }],
      [EXAMPLE, { years: "soon" }],
      [EXAMPLE, { years: "" }],
      [EXAMPLE, { periods: "0" }],
      [EXAMPLE, { audience: "everybody" }],
    ];
    for (const [paths, change] of wrong) {
      await expect(pool(paths, { ...options(out), ...change })).rejects.toBeInstanceOf(UsageError);
    }
    expect(existsSync(out)).toBe(false);
  });
});
