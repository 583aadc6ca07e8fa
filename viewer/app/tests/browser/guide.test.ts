// At the bench: one step at a time, to the end.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { describe, expect, inject, test } from "vitest";
import { browserForTests, faulty, reportOf } from "./pages";
import { type Message, type Speech, phrase, sentences } from "../../src/speech";

const english: Speech = { language: "en", unit: "um" };

const open = browserForTests();
interface Step {
  where: Message;
  stop: Message;
  strokes: number;
}
const plan = () => JSON.parse(readFileSync(join(inject("box"), faulty, "result.json"), "utf8")) as { plan: { steps: Step[] }; cautions: Message[] };

const kind = (page: Page) => page.locator("dialog.guide").getAttribute("data-page");
const press = (page: Page, name: string | RegExp) => page.locator("dialog.guide").getByRole("button", { name }).click();

async function atFirstStep(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Guide me at the bench" }).click();
  await press(page, "I have read this");
  await press(page, "Yes, go on");
}

describe("the guide", () => {
  test("goes from the cautions over the rolling test and every step to the next scan", async () => {
    const page = await open(reportOf(faulty));
    const { plan: known, cautions } = plan();
    await page.getByRole("button", { name: "Guide me at the bench" }).click();
    expect(await page.locator("dialog.guide li").allTextContents()).toEqual(expect.arrayContaining(cautions.map((caution) => sentences([caution], english))));
    expect(await page.locator("dialog.guide").innerText()).toContain("Nobody has checked whether it mirrors");
    await press(page, "I have read this");
    expect(await kind(page)).toBe("rolling-test");
    await press(page, "Yes, go on");
    for (const [k, step] of known.steps.entries()) {
      expect(await kind(page)).toBe("step");
      const text = await page.locator("dialog.guide").innerText();
      expect(text).toContain(`Step ${k + 1} of ${known.steps.length}`);
      expect(text).toContain(phrase(step.where, english));
      expect(text).toContain(`about ${step.strokes} light strokes`);
      expect(text).toContain(sentences([step.stop], english));
      // One place is lit, and it is this step's.
      expect(await page.locator("svg.place g[opacity='1']").count()).toBe(1);
      expect(await page.locator("svg.place g[opacity='1'] text").textContent()).toBe(String(k + 1));
      await press(page, "Done");
    }
    expect(await kind(page)).toBe("scan-again");
    expect(await page.locator("dialog.guide").innerText()).toContain("scan it again");
  });
  test("undoes, skips, and knows after a restart where it stopped", async () => {
    const page = await open(reportOf(faulty));
    await atFirstStep(page);
    await press(page, "Done");
    await press(page, "Undo");
    expect(await page.locator("dialog.guide").innerText()).toContain("Step 1 of");
    await press(page, "Skip");
    await page.reload();
    await page.waitForSelector("html[data-ready=yes]");
    await page.getByRole("button", { name: "Go on where you stopped" }).click();
    expect(await page.locator("dialog.guide").innerText()).toContain("Step 2 of");
    expect(await page.locator(".progress li").first().getAttribute("data-mark")).toBe("skipped");
    for (let step = 2; step <= plan().plan.steps.length; step++) await press(page, "Skip");
    expect(await page.locator("dialog.guide").innerText()).toContain("nothing to compare yet");
    await press(page, "Start over");
    expect(await kind(page)).toBe("cautions");
  });
  test("takes nothing off when the rolling test says otherwise", async () => {
    const page = await open(reportOf(faulty));
    await page.getByRole("button", { name: "Guide me at the bench" }).click();
    await press(page, "I have read this");
    await press(page, "No, or not sure");
    expect(await kind(page)).toBe("take-nothing-off");
    expect(await page.locator("dialog.guide").getByRole("button").allTextContents()).toEqual(["Close", "Close", "Undo"]);
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Your rolling test said: take nothing off" }).waitFor();
  });
  test("stops for good when both sides speak alike, whatever strokes are left", async () => {
    const page = await open(reportOf(faulty));
    await atFirstStep(page);
    await press(page, "Both sides respond alike: stop here");
    expect(await kind(page)).toBe("scan-again");
    expect(await page.locator("dialog.guide").innerText()).toContain("scan it again");
    await press(page, "Undo");
    expect(await page.locator("dialog.guide").innerText()).toContain("Step 1 of");
  });
  test("tells place and stop in German too, and which way round the reed lies", async () => {
    const page = await open(reportOf(faulty), { locale: "de-DE" });
    await page.getByRole("button", { name: "Am Werktisch anleiten" }).click();
    await press(page, "Gelesen");
    await press(page, "Ja, weiter");
    const text = await page.locator("dialog.guide").innerText();
    expect(text).toMatch(/rechter Rand, \d+ bis \d+ mm von der Spitze/);
    expect(text).toMatch(/Alle \d Striche anhalten, .* Nach \d+ Strichen ist Schluss/);
    expect(await page.locator("svg.place text").allTextContents()).toEqual(expect.arrayContaining(["links", "rechts", "Spitze oben, Ausstich zu Ihnen"]));
  });
  test("draws at true size once the screen's scale is set with a card of 85.60 mm (ISO/IEC 7810, ID-1)", async () => {
    const page = await open(reportOf(faulty));
    await atFirstStep(page);
    await press(page, "Set this screen's scale");
    await page.locator(".card-page input[type=range]").fill("5");
    const card = await page.locator("svg.card").boundingBox();
    expect(card?.width).toBeCloseTo(85.6 * 5, 0);
    expect(card?.height).toBeCloseTo(53.98 * 5, 0);
    await press(page, "Save");
    const px = await page.locator("svg.place").evaluate((svg) => {
      const m = (svg as SVGSVGElement).getScreenCTM();
      return { across: m?.a ?? 0, along: m?.d ?? 0 };
    });
    // To a thousandth: the browser rounds lengths to a 64th of a pixel.
    expect(px.across).toBeCloseTo(5, 2);
    expect(px.along).toBeCloseTo(5, 2);
  });
  test("is left with Escape and does not stand where there is nothing to scrape", async () => {
    const page = await open(reportOf(faulty));
    await atFirstStep(page);
    await page.keyboard.press("Escape");
    await expect.poll(() => page.locator("dialog.guide").count()).toBe(0);
    const even = await open(reportOf("reed-1-even"));
    expect(await even.getByRole("button", { name: /Guide me/ }).count()).toBe(0);
  });
});
