import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { disclose } from "../../src/disclosure/disclose.ts";
import { reportFiles } from "../../src/study/making/report-files.ts";
import { runStudy } from "../../src/study/run.ts";
import { PLAN, smallStudy } from "../study/small-export.ts";
import { accessibilityFaults, openBrowser, openHtml, pdfPages } from "./report-browser.ts";
import { edgeOf, focusedText, heightsOf, topOf, unfold, widths } from "./report-measures.ts";

const REPORTS = join(import.meta.dirname, "../../reports");
const page = (id: string) => readFileSync(join(REPORTS, id, "index.html"), "utf8");

let browser: Browser;
beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser.close());

describe.each([
  "tourniquet-and-loosening",
  "movement-before-set",
  "gammopathy-and-sex",
  "what-can-we-ask",
  "what-the-unit-does",
  "verification",
])("the committed report %s", (id) => {
  it("asks for nothing, says nothing on the console, meets WCAG 2.2 AA and fits a telephone", async () => {
    const { page: open, messages, requests } = await openHtml(browser, page(id), 390);
    await unfold(open);
    expect(messages).toEqual([]);
    expect(requests).toEqual([]);
    expect(await accessibilityFaults(open)).toEqual([]);
    const size = await widths(open);
    expect(size.page).toBe(size.view);
    await open.close();
  });

  it("offers files to keep that stand beside it", () => {
    const links = [...page(id).matchAll(/<a href="([^"#]+)" download>/g)].map((match) => match[1] ?? "");
    expect(links.length).toBeGreaterThan(3);
    expect(links.filter((link) => !existsSync(join(REPORTS, id, link)))).toEqual([]);
  });
});

describe.each([
  "tourniquet-and-loosening",
  "gammopathy-and-sex",
  "movement-before-set",
  "what-the-unit-does",
])("the committee's brief of %s on paper", (id) => {
  it("takes two pages, and the rest starts on the third", async () => {
    const { page: open } = await openHtml(browser, page(id));
    const pages = pdfPages(await open.pdf({ preferCSSPageSize: true }));
    // The brief ends where the first section after it begins a page; its own pages are what is left without the rest.
    await open.evaluate(
      'document.querySelectorAll("main > section:not(.brief), .page-foot").forEach((part) => part.remove())',
    );
    expect(pdfPages(await open.pdf({ preferCSSPageSize: true }))).toBe(2);
    expect(pages).toBeGreaterThan(2);
    await open.close();
  });
});

/** A sheet of A4 between its margins, at 96 pixels an inch. */
const SHEET = { width: (210 - 30) * (96 / 25.4), height: (297 - 32) * (96 / 25.4) };

describe("a committee member", () => {
  it("meets the question, the answer and the decision in that order, and every word explained", async () => {
    const { page: open } = await openHtml(browser, page("tourniquet-and-loosening"));
    const headings = await open.locator(".brief h3").allTextContents();
    expect(headings).toEqual([
      "The question",
      "The answer",
      "What this export could have shown",
      "The groups over the years",
      "Before anyone acts on this",
      "The committee's decision",
      "Words used",
    ]);
    const answer = await open.locator(".brief .answer").allTextContents();
    expect(answer).toEqual([expect.stringMatching(/^At 10 years: This export cannot tell/)]);
    // The verdict, then one line a year, in their order.
    const lines = await open.locator(".brief .answer + ul > li").allTextContents();
    expect(lines.map((line) => line.split(":")[0])).toEqual(["At 5 years", "At 10 years"]);
    expect(await open.locator(".brief figure").count()).toBeLessThanOrEqual(3);
    expect(await open.locator(".brief .choices li").allTextContents()).toEqual([
      "No change",
      "Record better",
      "Collect longer",
      "Review the data, then the case mix, then the practice",
    ]);
    // Every kind of number of the brief has its word at the end.
    const words = (await open.locator(".brief > section:last-child").textContent()) ?? "";
    for (const word of [
      "Censored",
      "Other end",
      "Completeness",
      "Aalen–Johansen",
      "interval",
      "Rate",
      "Ratio",
      "hazard ratio",
      "Crude risk",
      "Net risk",
    ]) {
      expect(words).toContain(word);
    }
    await open.close();
  });

  it("prints figures and tables that each fit a sheet, so that none is cut", async () => {
    const { page: open } = await openHtml(browser, page("tourniquet-and-loosening"));
    await open.setViewportSize({ width: Math.floor(SHEET.width), height: 900 });
    await open.emulateMedia({ media: "print" });
    const heights = await heightsOf(open, "figure, .choices, .caution, .brief table, tr");
    expect(heights.length).toBeGreaterThan(100);
    expect(Math.max(...heights)).toBeLessThan(SHEET.height);
    await open.close();
  });
});

describe.each(["tourniquet-and-loosening", "what-can-we-ask", "what-the-unit-does"])(
  "the tables of %s on paper",
  (id) => {
    it("end before the stamp beside the text", async () => {
      const { page: open } = await openHtml(browser, page(id));
      await open.setViewportSize({ width: Math.floor(SHEET.width), height: 900 });
      await open.emulateMedia({ media: "print" });
      const strip = await edgeOf(open, ".stamp-strip", "left");
      const tables = await edgeOf(open, "main table", "right");
      expect(tables).toBeGreaterThan(400);
      expect(tables).toBeLessThanOrEqual(strip);
      await open.close();
    });
  },
);

describe("a surgeon at a screen", () => {
  it("gets to every part by the contents, and reads at 400 % without scrolling sideways", async () => {
    // 1,280 pixels at 400 % are 320.
    const { page: open } = await openHtml(browser, page("tourniquet-and-loosening"), 320);
    const links = open.locator(".contents a");
    expect(await links.count()).toBeGreaterThan(8);
    for (const link of await links.all()) {
      const target = (await link.getAttribute("href")) ?? "";
      await link.click();
      // Beneath the stamp, which stays at the top.
      expect(Math.abs(await topOf(open, target))).toBeLessThan(120);
    }
    await unfold(open);
    const size = await widths(open);
    expect(size.page).toBe(size.view);
    await open.keyboard.press("Tab");
    expect(await focusedText(open)).not.toBe("");
    await open.close();
  });
});

describe("an analyst", () => {
  it("finds the comparisons counted, the checks of the model and every file, on a page without a fault", async () => {
    const { study, source } = smallStudy(
      {
        plannedComparisons: 3,
        adjusters: [
          { field: "role:ageYears", settled: "before", curve: true, reason: "younger knees are used harder" },
          { field: "role:sex", settled: "before", reason: "loads differ" },
        ],
        covariates: [...PLAN.covariates, "role:bmi", "role:asaGrade"],
      },
      { knees: 4000 },
    );
    const run = await runStudy(study, source);
    const files = reportFiles(run, disclose(run.exhibits, "analyst"));
    const { page: open, messages, requests } = await openHtml(browser, files.get("index.html") ?? "", 390);
    for (const id of [
      "comparisons",
      "model-coefficients",
      "model-facts",
      "effect-over-time",
      "form-1",
      "other-fits",
    ]) {
      expect(await open.locator(`#exhibit-${id}`).count(), id).toBe(1);
    }
    await unfold(open);
    expect(await accessibilityFaults(open)).toEqual([]);
    const size = await widths(open);
    expect(size.page).toBe(size.view);
    const links = await open
      .locator("a[download]")
      .evaluateAll((elements: { getAttribute(name: string): string | null }[]) =>
        elements.map((element) => element.getAttribute("href") ?? ""),
      );
    expect(links.filter((link) => !files.has(link))).toEqual([]);
    expect(links.length).toBeGreaterThan(30);
    expect([messages, requests]).toEqual([[], []]);
    await open.close();
  });
});
