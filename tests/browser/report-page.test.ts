import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { curveFigure, flowFigure } from "../../src/figures/index.ts";
import { renderIndex, renderReport } from "../../src/report/index.ts";
import { HOSTILE } from "../report/hostile.ts";
import { cleared, sampleCurves } from "../report/sample-curves.ts";
import { sampleFlow } from "../report/sample-flow.ts";
import { STAMP, samplePage } from "../report/sample-page.ts";
import { accessibilityFaults, openBrowser, openHtml, pdfPages } from "./report-browser.ts";
import {
  collisions,
  cuesAmiss,
  distancesFromTicks,
  focusedText,
  styleOf,
  stylesOf,
  unfold,
  widths,
  xmlFaults,
} from "./report-measures.ts";

/** One curve of joined points: level from day 700 to year 3, then rising to year 10. */
function joinedCurves(): typeof sampleCurves {
  const [landmark] = sampleCurves.landmarks;
  if (landmark === undefined) throw new Error("the sample has landmarks");
  return cleared({
    ...sampleCurves,
    drawing: "joined points",
    curves: [
      {
        label: "a",
        style: 0,
        time: [0, 700, 1095, 3652],
        value: [0, 0.002, 0.002, 0.009],
        low: [0, 0.001, 0.001, 0.005],
        high: [0.001, 0.004, 0.004, 0.014],
        drawnTo: 3652,
      },
    ],
    landmarks: [{ ...landmark, label: "a" }],
  });
}

let browser: Browser;
const html = renderReport(samplePage);

beforeAll(async () => {
  browser = await openBrowser();
});
afterAll(() => browser.close());

describe("a report in a browser", () => {
  it("writes nothing to the console and asks for nothing, its style sheet in force", async () => {
    const { page, messages, requests } = await openHtml(browser, html);
    expect(messages).toEqual([]);
    expect(requests).toEqual([]);
    // A style sheet that its own policy refused would leave the browser's default margin.
    expect(await styleOf(page, "body", "margin")).toBe("0px");
    await page.close();
  });

  it.each([1280, 390])("meets WCAG 2.2 AA at %i pixels, everything unfolded", async (width) => {
    const { page } = await openHtml(browser, html, width);
    await unfold(page);
    expect(await accessibilityFaults(page)).toEqual([]);
    await page.close();
  });

  it("reads the curves off at a day, by key and by pointing, with the numbers of the table", async () => {
    const { page, messages } = await openHtml(browser, html);
    const slider = page.locator("figure.of-curves .reading input").first();
    const said = page.locator("figure.of-curves .reading output").first();
    await slider.focus();
    await slider.press("End");
    const words = await said.textContent();
    for (const { label, value, drawnTo } of sampleCurves.curves) {
      const last = drawnTo === Math.max(...sampleCurves.curves.map((curve) => curve.drawnTo));
      expect(words).toContain(
        last ? `${label}: ${(1000 * (value.at(-1) ?? 0)).toFixed(1)} (` : `${label}: not drawn`,
      );
    }
    expect(words).toContain("at risk at year 10: 1204");
    // Ten years are 3,652.5 days, and the numbers at risk are those of day 3652.
    await slider.fill("3652");
    expect(await said.textContent()).toContain("at risk at year 10: 1204");
    await slider.fill("3651");
    expect(await said.textContent()).not.toContain("at risk at year 10");
    await slider.press("Home");
    expect(await said.textContent()).toMatch(/^day 0 \(0\.0 years\)/);
    const picture = page.locator("figure.of-curves svg").first();
    await picture.scrollIntoViewIfNeeded();
    const box = await picture.boundingBox();
    if (box === null) throw new Error("the figure has a place on the page");
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 3);
    expect(Number(await slider.inputValue())).toBeGreaterThan(300);
    expect(messages).toEqual([]);
    await page.close();
  });

  it("tells no value between joined points that rise, but which points it lies between", async () => {
    const joined = joinedCurves();
    const figure = curveFigure(joined);
    const { page } = await openHtml(
      browser,
      renderReport({ ...samplePage, brief: [{ kind: "exhibit", exhibit: joined, figure }], sections: [] }),
    );
    const slider = page.locator(".reading input");
    const said = page.locator(".reading output");
    await slider.fill("730");
    expect(await said.textContent()).toContain("a: 2.0 (1.0 to 4.0), at risk");
    await slider.fill("1500");
    expect(await said.textContent()).toContain(
      "a: between 2.0 (1.0 to 4.0) at 3.0 years and 9.0 (5.0 to 14.0) at 10.0 years, at risk",
    );
    // Level up to the year at which the line is exact.
    await slider.fill("1095");
    expect(await said.textContent()).toContain("a: 2.0 (1.0 to 4.0), at risk");
    await slider.fill("3652");
    expect(await said.textContent()).toContain("a: 9.0 (5.0 to 14.0), at risk");
    await page.close();
  });

  it("has an index page that meets WCAG 2.2 AA", async () => {
    const index = renderIndex([{ id: "a", title: "A", subtitle: "B", stamp: STAMP }]);
    const { page, messages } = await openHtml(browser, index);
    expect(messages).toEqual([]);
    expect(await accessibilityFaults(page)).toEqual([]);
    await page.close();
  });

  it.each([390, 320, 768, 1280])(
    "does not scroll sideways at %i pixels; wide tables scroll in their frame",
    async (width) => {
      const { page } = await openHtml(browser, html, width);
      await unfold(page);
      const size = await widths(page);
      expect(size.page).toBe(size.view);
      if (width < 500) expect(size.scrolling).toBeGreaterThan(0);
      // Frames that hold more than they show say so, and no others.
      expect(await cuesAmiss(page)).toEqual([]);
      await page.close();
    },
  );

  it("reaches every section and every scrolling frame by keyboard", async () => {
    const { page } = await openHtml(browser, html, 390);
    await page.keyboard.press("Tab");
    expect(await focusedText(page)).toBe("Skip to the report");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    expect(new URL(page.url()).hash).toBe("#included");
    const frames = await page.locator(".scroll").count();
    expect(frames).toBeGreaterThan(3);
    expect(await page.locator('.scroll[tabindex="0"]').count()).toBe(frames);
    await page.close();
  });

  it("sets numbers under their ticks to within half a pixel, as the browser measures them", async () => {
    const { page } = await openHtml(browser, html);
    const distances = await distancesFromTicks(page);
    expect(distances.length).toBeGreaterThan(20);
    expect(Math.max(...distances)).toBeLessThanOrEqual(0.5);
    await page.close();
  });

  it("lets no word of a figure run out of the picture or over another", async () => {
    const { page } = await openHtml(browser, html);
    const faults = await collisions(page);
    expect(faults).toEqual([]);
    await page.close();
  });
});

describe("a report on paper", () => {
  it("prints the brief on two pages, dark on white from a browser in dark mode too", async () => {
    const brief = renderReport({ ...samplePage, sections: [], footer: [] });
    const { page } = await openHtml(browser, brief);
    await page.emulateMedia({ colorScheme: "dark", media: "print" });
    const background = await styleOf(page, "body", "background-color");
    const ink = await styleOf(page, "body", "color");
    expect([background, ink]).toEqual(["rgb(255, 255, 255)", "rgb(0, 0, 0)"]);
    expect(pdfPages(await page.pdf({ preferCSSPageSize: true }))).toBeLessThanOrEqual(2);
    await page.close();
  });

  it("prints the whole report, the stamp beside the text and the numbers of curves unfolded", async () => {
    const { page } = await openHtml(browser, html);
    const pages = pdfPages(await page.pdf({ preferCSSPageSize: true }));
    expect(pages).toBeGreaterThanOrEqual(4);
    expect(pages).toBeLessThanOrEqual(8);
    await page.emulateMedia({ media: "print" });
    const visible = (selector: string) => page.locator(selector).first().isVisible();
    const shown = {
      strip: await visible(".stamp-strip"),
      bar: await visible(".stamp"),
      contents: await visible(".contents"),
      twin: await visible("section:not(.brief) .twin.of-curves table"),
      twinInBrief: await visible(".brief .twin table"),
    };
    expect(shown).toEqual({ strip: true, bar: false, contents: false, twin: true, twinInBrief: false });
    await page.close();
  });

  it("splits no figure and no row", async () => {
    const { page } = await openHtml(browser, html);
    await page.emulateMedia({ media: "print" });
    const rules = await stylesOf(page, "figure, tr, .choices, .caution", "break-inside");
    expect(rules.length).toBeGreaterThan(20);
    expect(new Set(rules)).toEqual(new Set(["avoid"]));
    await page.close();
  });
});

describe("a saved figure", () => {
  const hostile = HOSTILE.map(([name, text]) => {
    const curves = sampleCurves.curves.map((curve) => ({ ...curve, label: text }));
    const landmarks = sampleCurves.landmarks.map((row) => ({ ...row, label: text }));
    return [
      name,
      cleared({ ...sampleCurves, id: name, title: text, question: text, curves, landmarks }),
    ] as const;
  });
  const figures = [
    ["curves", curveFigure(sampleCurves, { stamp: STAMP })],
    ["flow", flowFigure(sampleFlow, { stamp: STAMP })],
    ...hostile.map(([name, exhibit]) => [name, curveFigure(exhibit, { stamp: name })] as const),
  ] as const;

  it("is well-formed XML in the name space of SVG, whatever its labels", async () => {
    const { page } = await openHtml(browser, "<!doctype html><html lang=en><title>t</title>");
    const faults = await xmlFaults(
      page,
      figures.map(([name, { svg }]) => [name, svg] as const),
    );
    expect(faults).toEqual([]);
    await page.close();
  });
});
