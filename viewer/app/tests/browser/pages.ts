// Pages in Debian's Chromium, drawn in software so that every machine draws alike.
import { type Browser, type BrowserContextOptions, type Page, chromium } from "playwright-core";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, expect, inject } from "vitest";

export const faulty = "reed-2-heavy-right-rail";
export const scraped = "reed-2-heavy-right-rail-scraped";
export const reeds = ["reed-1-even", faulty, scraped, "reed-3-thick-tip-corner", "reed-4-thin-left-rail"];

export function reportOf(reed: string): string {
  return "file://" + join(inject("box"), reed, "report.html");
}
export const comparison = (): string => "file://" + join(inject("box"), scraped + "-compare", "compare.html");

export interface Opening extends BrowserContextOptions {
  /// Before the page's own script runs.
  before?: string;
  /// An address that lets in, gone to first.
  entrance?: string;
}

export const phone: Opening = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };

/// Opens pages that are closed after each test, which fails if a page reported an error.
/// `afterPages` ends what served them: pages go first, because one that still loads would complain.
export function browserForTests(afterPages = async (): Promise<void> => {}): (address: string, how?: Opening) => Promise<Page> {
  let browser: Browser;
  const opened: Page[] = [];
  const complaints: string[] = [];
  beforeAll(async () => {
    browser = await chromium.launch({
      executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
      args: ["--no-sandbox", "--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"],
    });
  });
  afterAll(async () => browser.close());
  afterEach(async () => {
    for (const page of opened.splice(0)) await page.context().close();
    await afterPages();
    expect(complaints.splice(0)).toEqual([]);
  });
  return async (address, { before, entrance, ...how } = {}) => {
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, locale: "en-GB", colorScheme: "light", acceptDownloads: true, ...how });
    const page = await context.newPage();
    opened.push(page);
    page.on("pageerror", (error) => complaints.push(error.message));
    page.on("console", (message) => {
      // A refused upload is an answer of the server, not a fault of the page.
      if (message.type() === "error" && !message.text().includes("status of 4")) complaints.push(message.text());
    });
    if (before) await page.addInitScript(before);
    if (entrance) {
      await page.goto(entrance);
      await page.waitForSelector("html[data-ready=yes] .drop");
    }
    await page.goto(address);
    await page.waitForSelector("html[data-ready=yes]");
    return page;
  };
}

export async function show(page: Page, view: "surface" | "flat" | "folded", colours?: string): Promise<void> {
  await page.locator(".segments button").nth(["surface", "flat", "folded"].indexOf(view)).click();
  await page.waitForSelector(`[data-view=${view}]`);
  if (colours) await page.locator(".choices select").selectOption(colours);
  // One frame to draw, one to be shown.
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
}

/// The stage as it is on the screen.
export async function picture(page: Page): Promise<Buffer> {
  return page.locator(".stage").screenshot();
}

/// How many colours a picture has, and the share of its pixels that differ from its corner's colour.
export async function look(page: Page, png: Buffer): Promise<{ colours: number; covered: number; width: number; height: number }> {
  const blank = await page.context().newPage();
  const answer = await blank.evaluate(async (bytes) => {
    const image = await createImageBitmap(new Blob([Uint8Array.from(atob(bytes), (c) => c.charCodeAt(0))]));
    const canvas = new OffscreenCanvas(image.width, image.height);
    const context = canvas.getContext("2d") as OffscreenCanvasRenderingContext2D;
    context.drawImage(image, 0, 0);
    const pixels = new Uint32Array(context.getImageData(0, 0, image.width, image.height).data.buffer);
    const corner = pixels[5 * image.width + 5];
    let covered = 0;
    for (const p of pixels) covered += p === corner ? 0 : 1;
    return { colours: new Set(pixels).size, covered: covered / pixels.length, width: image.width, height: image.height };
  }, png.toString("base64"));
  await blank.close();
  return answer;
}

/// Moves the cursor to a place of the reed by a click on the flat or folded map.
export async function clickAt(page: Page, x_mm: number, y_mm: number): Promise<void> {
  const at = await page.locator("svg.flat").evaluate(
    (svg, [x, y]) => {
      const p = new DOMPoint(y, x).matrixTransform((svg as SVGSVGElement).getScreenCTM() ?? undefined);
      return { x: p.x, y: p.y };
    },
    [x_mm, y_mm] as const,
  );
  await page.mouse.click(at.x, at.y);
}

export function numbersIn(text: string | null): number[] {
  return [...(text ?? "").matchAll(/[-+]?\d+(?:\.\d+)?/g)].map((m) => Number(m[0]));
}
