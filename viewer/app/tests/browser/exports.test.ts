// What is saved from the page is a whole file of its kind.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { describe, expect, inject, test } from "vitest";
import { browserForTests, faulty, look, reportOf, show } from "./pages";

const open = browserForTests();

async function saved(page: Page, name: string): Promise<{ name: string; bytes: Buffer }> {
  const menu = page.locator("details.menu:not(.reader)");
  if ((await menu.getAttribute("open")) === null) await menu.locator("summary").click();
  const [download] = await Promise.all([page.waitForEvent("download"), menu.getByRole("button", { name }).click()]);
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

describe.each(["surface", "flat", "folded"] as const)("%s", (view) => {
  test("as a picture", async () => {
    const page = await open(reportOf(faulty));
    await show(page, view);
    const { name, bytes } = await saved(page, "Picture (PNG)");
    expect(name).toBe(`reed-${view}-leftRight.png`);
    const seen = await look(page, bytes);
    expect(Math.max(seen.width, seen.height)).toBeGreaterThanOrEqual(900);
    expect(seen.colours).toBeGreaterThan(30);
    expect(seen.covered).toBeGreaterThan(0.1);
  });
  test("as a drawing that stands alone", async () => {
    // On a dark screen too it is drawn for paper.
    const page = await open(reportOf(faulty), { colorScheme: "dark" });
    await show(page, view);
    const { bytes } = await saved(page, "Drawing (SVG)");
    const text = bytes.toString("utf8");
    expect(text).not.toMatch(/href="(?!data:)/);
    if (view !== "surface") expect(text).toMatch(/^<svg[^>]* color="#1a1a1e"/);
    const alone = await page.context().newPage();
    const drawn = await alone.evaluate(async (svg) => {
      const parsed = new DOMParser().parseFromString(svg, "image/svg+xml");
      const image = new Image();
      image.src = "data:image/svg+xml;charset=utf-8," + encodeURIComponent(svg);
      await image.decode();
      return { fault: parsed.querySelector("parsererror")?.textContent ?? "", width: image.naturalWidth, height: image.naturalHeight };
    }, text);
    expect(drawn.fault).toBe("");
    expect(Math.min(drawn.width, drawn.height)).toBeGreaterThan(100);
    await alone.setContent(text);
    const paper = await look(page, await alone.locator("svg").first().screenshot());
    expect(paper.covered).toBeGreaterThan(0.1);
  });
});

test("a saved view says what it shows: the sentence, the colours and their unit", async () => {
  const page = await open(reportOf(faulty));
  await show(page, "flat");
  const words = (await saved(page, "Drawing (SVG)")).bytes.toString().replace(/<[^>]*>/g, " ");
  for (const part of ["right rail", "left against right", "µm", "dots: less", "+100"]) expect(words).toContain(part);
});

test.each(["section", "profiles", "closing", "compliance", "bars"])("the curves are saved too: %s, on a dark screen in inks for paper", async (name) => {
  const page = await open(reportOf(faulty), { colorScheme: "dark" });
  await page.evaluate(() => document.querySelectorAll("main details:not(.menu)").forEach((d) => ((d as HTMLDetailsElement).open = true)));
  const [download] = await Promise.all([page.waitForEvent("download"), page.locator(`[data-chart=${name}] .save-chart`).click()]);
  expect(download.suggestedFilename()).toBe(`reed-${name}.svg`);
  const text = readFileSync(await download.path(), "utf8");
  expect(text).not.toMatch(/#6db3ff|#ffa35c/);
  const alone = await page.context().newPage();
  await alone.setContent(text);
  expect(await alone.locator("svg").first().textContent()).toContain((await page.locator(`[data-chart=${name}] figcaption`).textContent())?.replace(" SVG", "").trim().slice(0, 12));
  expect((await look(page, await alone.locator("svg").first().screenshot())).colours).toBeGreaterThan(8);
});

test("the table is the command's thickness.csv, the template its template.pdf", async () => {
  const page = await open(reportOf(faulty));
  const csv = await saved(page, "Table (CSV)");
  const [page_lines, command_lines] = [csv.bytes.toString().split("\n"), readFileSync(join(inject("box"), faulty, "thickness.csv"), "utf8").split("\n")];
  expect(page_lines).toHaveLength(command_lines.length);
  expect(page_lines[0]).toBe(command_lines[0]);
  for (const [k, line] of page_lines.entries()) {
    // The last digit, 10 nm, may round the other way.
    const [ours = [], theirs = []] = [line.split(",").map(Number), command_lines[k]?.split(",").map(Number)];
    if (k > 0 && ours.some((value, c) => Math.abs(value - (theirs[c] ?? NaN)) > 1.01e-5)) expect(line).toBe(command_lines[k]);
  }
  const pdf = await saved(page, "Template (PDF)");
  expect(pdf.bytes.subarray(0, 5).toString()).toBe("%PDF-");
  expect(pdf.bytes.equals(readFileSync(join(inject("box"), faulty, "template.pdf")))).toBe(true);
});

test("printed, it is plain: no buttons, dark ink on white, the sentence and the steps", async () => {
  const page = await open(reportOf(faulty), { colorScheme: "dark" });
  await page.emulateMedia({ media: "print", colorScheme: "dark" });
  for (const button of await page.locator("button").all()) expect(await button.isVisible()).toBe(false);
  expect(await page.locator("body").evaluate((b) => getComputedStyle(b).color)).toBe("rgb(0, 0, 0)");
  expect(await page.locator("ol.steps").isVisible()).toBe(true);
  expect(await page.locator("h1").isVisible()).toBe(true);
});
