import type { Locator, Page } from "playwright-core";

/*
 * Functions handed to `evaluate` run in the page. The project compiles without the DOM library, so they start from
 * the root element that playwright hands in, and nothing checks their types: keep them short.
 */

function root(page: Page): Locator {
  return page.locator(":root");
}

export function styleOf(page: Page, selector: string, property: string): Promise<string> {
  const read = (element: ElementInPage, name: string): string =>
    element.ownerDocument.defaultView.getComputedStyle(element).getPropertyValue(name);
  return page.locator(selector).first().evaluate(read, property);
}

export function stylesOf(page: Page, selector: string, property: string): Promise<string[]> {
  const read = (elements: ElementInPage[], name: string): string[] =>
    elements.map((element) =>
      element.ownerDocument.defaultView.getComputedStyle(element).getPropertyValue(name),
    );
  return page.locator(selector).evaluateAll(read, property);
}

export async function unfold(page: Page): Promise<void> {
  const open = (elements: ElementInPage[]): void => {
    for (const element of elements) element.setAttribute("open", "");
  };
  await page.locator("details").evaluateAll(open);
}

export function focusedText(page: Page): Promise<string> {
  return root(page).evaluate((html: ElementInPage) => html.ownerDocument.activeElement?.textContent ?? "");
}

/** Furthest edge of all that is shown and matches, from the left of the page. */
export async function edgeOf(page: Page, selector: string, side: "left" | "right"): Promise<number> {
  const read = (elements: ElementInPage[], which: "left" | "right"): number[] =>
    elements.map((element) => element.getBoundingClientRect()[which]);
  return Math.max(...(await page.locator(selector).evaluateAll(read, side)));
}

/** Width of the page, of the window, and how many frames scroll by themselves. */
export function widths(page: Page): Promise<{ page: number; view: number; scrolling: number }> {
  return root(page).evaluate((html: ElementInPage) => ({
    page: html.scrollWidth,
    view: html.clientWidth,
    scrolling: [...html.querySelectorAll(".scroll")].filter((box) => box.scrollWidth > box.clientWidth)
      .length,
  }));
}

/** Names of frames whose words on scrolling stand where nothing scrolls, or are missing where something does. */
export function cuesAmiss(page: Page): Promise<string[]> {
  const read = (frames: ElementInPage[]): string[] =>
    frames.flatMap((frame) => {
      const { getComputedStyle } = frame.ownerDocument.defaultView;
      const isSaid = getComputedStyle(frame, "::before").getPropertyValue("max-height") !== "0px";
      const scrolls = frame.scrollWidth > frame.clientWidth;
      return isSaid === scrolls ? [] : [`${frame.textContent?.slice(0, 60)}: ${isSaid}, ${scrolls}`];
    });
  return page.locator(".scroll").evaluateAll(read);
}

/** Heights in pixels of what must not be cut by the end of a page. */
export function heightsOf(page: Page, selector: string): Promise<number[]> {
  const read = (elements: ElementInPage[]): number[] =>
    elements.map((element) => {
      const { top, bottom } = element.getBoundingClientRect();
      return bottom - top;
    });
  return page.locator(selector).evaluateAll(read);
}

/** Distance of an element's top from the window's. */
export function topOf(page: Page, selector: string): Promise<number> {
  return page
    .locator(selector)
    .first()
    .evaluate((element: ElementInPage) => element.getBoundingClientRect().top);
}

/** How far each number of the first figure stands from the nearest tick, in pixels of the screen. */
export function distancesFromTicks(page: Page): Promise<number[]> {
  return page
    .locator("svg")
    .first()
    .evaluate((svg: ElementInPage) => {
      const texts = [...svg.querySelectorAll("text")];
      const middle = (text: ElementInPage): number => {
        const { left, right } = text.getBoundingClientRect();
        return (left + right) / 2;
      };
      const ticks = texts.filter((text) => text.getAttribute("y") === "0.71em").map(middle);
      return texts
        .filter((text) => text.getAttribute("text-anchor") === "middle" && text.hasAttribute("font-variant"))
        .map((text) => Math.min(...ticks.map((tick) => Math.abs(tick - middle(text)))));
    });
}

/** Words that run out of their figure, and pairs of words that lie over each other. */
export function collisions(page: Page): Promise<string[]> {
  return page.locator("svg").evaluateAll((figures: ElementInPage[]) =>
    figures.flatMap((svg) => {
      const frame = svg.getBoundingClientRect();
      const boxes = [...svg.querySelectorAll("text")].map((text) => ({
        words: text.textContent ?? "",
        box: text.getBoundingClientRect(),
      }));
      const outside = boxes.filter(({ box }) => box.left < frame.left - 1 || box.right > frame.right + 1);
      const over = boxes.flatMap((one, at) =>
        boxes.slice(at + 1).flatMap(({ words, box }) => {
          const sideways = box.left < one.box.right - 1 && one.box.left < box.right - 1;
          // Boxes of neighbouring lines share some pixels of empty room above and below the letters.
          const upwards = box.top < one.box.bottom - 5 && one.box.top < box.bottom - 5;
          return sideways && upwards ? [`${one.words} / ${words}`] : [];
        }),
      );
      return [...outside.map(({ words }) => `outside: ${words}`), ...over];
    }),
  );
}

/** What a strict reader of XML finds wrong with each text. */
export function xmlFaults(page: Page, svgs: readonly (readonly [string, string])[]): Promise<string[]> {
  const parse = (html: ElementInPage, texts: readonly (readonly [string, string])[]): string[] =>
    texts.flatMap(([name, text]) => {
      const parsed = new html.ownerDocument.defaultView.DOMParser().parseFromString(text, "image/svg+xml");
      const error = parsed.querySelector("parsererror");
      const named = parsed.documentElement.namespaceURI === "http://www.w3.org/2000/svg";
      return error === null && named
        ? []
        : [`${name}: ${error?.textContent?.slice(0, 120) ?? "no name space"}`];
    });
  return root(page).evaluate(parse, svgs);
}

interface BoxInPage {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** The little of an element that the functions above touch. */
interface ElementInPage {
  readonly textContent: string | null;
  readonly namespaceURI: string | null;
  readonly scrollWidth: number;
  readonly clientWidth: number;
  readonly ownerDocument: {
    readonly activeElement: ElementInPage | null;
    readonly defaultView: {
      getComputedStyle(element: ElementInPage, part?: string): { getPropertyValue(name: string): string };
      readonly DOMParser: new () => { parseFromString(text: string, type: string): DocumentInPage };
    };
  };
  getAttribute(name: string): string | null;
  setAttribute(name: string, value: string): void;
  hasAttribute(name: string): boolean;
  getBoundingClientRect(): BoxInPage;
  querySelectorAll(selector: string): Iterable<ElementInPage>;
}

interface DocumentInPage {
  readonly documentElement: ElementInPage;
  querySelector(selector: string): ElementInPage | null;
}
