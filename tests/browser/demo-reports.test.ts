import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { accessibilityFaults, openBrowser, openHtml, pdfPages } from "./report-browser.ts";
import { unfold, widths } from "./report-measures.ts";

const REPORTS = join(import.meta.dirname, "../../reports");
const page = (id: string) => readFileSync(join(REPORTS, id, "index.html"), "utf8");

let browser: Browser;
beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser.close());

describe.each(["tourniquet-and-loosening", "gammopathy-and-sex", "what-can-we-ask", "verification"])(
  "the committed report %s",
  (id) => {
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
  },
);

describe("the committee's brief on paper", () => {
  it("takes two pages, and the rest starts on the third", async () => {
    const { page: open } = await openHtml(browser, page("tourniquet-and-loosening"));
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
