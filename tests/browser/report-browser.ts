import axe from "axe-core";
import { type Browser, chromium, type Page } from "playwright-core";

/** Chromium as the system has it; another one by the environment variable CHROMIUM. */
const EXECUTABLE = process.env.CHROMIUM ?? "/usr/bin/chromium";

const ARGUMENTS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

export function openBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: EXECUTABLE, args: ARGUMENTS, headless: true });
}

export interface OpenPage {
  readonly page: Page;
  /** What the page wrote to the console, and every error. */
  readonly messages: string[];
  /** Every address it asked for, its own left out. */
  readonly requests: string[];
}

/** A page from its text. It stands under an address that nothing answers, so that any request would be seen. */
export async function openHtml(browser: Browser, html: string, width = 1280): Promise<OpenPage> {
  const page = await browser.newPage({ viewport: { width, height: 900 } });
  const messages: string[] = [];
  const requests: string[] = [];
  page.on("console", (message) => messages.push(message.text()));
  page.on("pageerror", (error) => messages.push(error.message));
  await page.route("**/*", (route) => {
    const url = route.request().url();
    if (url === ADDRESS) return route.fulfill({ contentType: "text/html; charset=utf-8", body: html });
    requests.push(url);
    return route.abort();
  });
  await page.goto(ADDRESS);
  return { page, messages, requests };
}

const ADDRESS = "http://report.invalid/index.html";

/** Rules broken, one line each: the rule and the first element. */
export async function accessibilityFaults(page: Page): Promise<string[]> {
  // The policy of the page forbids scripts of its own; this one comes from outside through the debugger.
  await page.evaluate(axe.source);
  return page.evaluate(async (tags) => {
    // Axe has just put itself there.
    const { run } = (globalThis as unknown as { axe: typeof axe }).axe;
    const { violations } = await run({ runOnly: { type: "tag", values: tags } });
    return violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html ?? ""}`.slice(0, 200));
  }, WCAG_TAGS);
}

const WCAG_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/** Pages of a PDF that Chromium made. */
export function pdfPages(pdf: Uint8Array): number {
  const text = Buffer.from(pdf).toString("latin1");
  return Math.max(
    ...[...text.matchAll(/\/Type\s*\/Pages\b[^>]*\/Count\s+(\d+)/g)].map((match) => Number(match[1])),
    0,
  );
}
