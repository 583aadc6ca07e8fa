// The real server with a ledger: a box, its reeds, a trial in three taps.
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { beforeEach, describe, expect, inject, test } from "vitest";
import { phone } from "./pages";
import { served } from "./served";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const { at, serve, open } = served((folder) => {
  const scan = (reed: string) => join(inject("box"), "scans", reed + ".ply");
  const canewise = (...words: string[]) => execFileSync(inject("command"), words, { cwd: folder });
  canewise("player", "add", "Anna");
  canewise("box", "add", "B3", "--player", "Anna", "--holds", "10");
  canewise("measure", scan("reed-1-even"), "--reed", "B3-1", "--state", "dry", "--out", "first");
  canewise("measure", scan("reed-2-heavy-right-rail"), "--reed", "B3-2", "--state", "dry", "--out", "second");
});

beforeEach(() => serve());
const command = (...words: string[]) => execFileSync(inject("command"), words, { cwd: at.folder }).toString();

describe("a season", () => {
  test("reeds are listed by their own names, found and put in order", async () => {
    const page = await open(at.address);
    const names = () => page.locator(".reeds strong").allTextContents();
    await expect.poll(async () => (await names()).sort()).toEqual(["B3-1", "B3-2"]);
    await page.getByLabel("order").selectOption("label");
    expect(await names()).toEqual(["B3-1", "B3-2"]);
    await page.getByLabel("find").fill("anna thicker");
    await expect.poll(names).toEqual(["B3-2"]);
    await page.getByLabel("find").fill("saxophone");
    await expect.poll(names).toEqual([]);
    expect(await page.getByRole("status").textContent()).toBe("No reed holds these words.");
  });

  test("today and the boxes stand on a page of their own, and the box shows every reed", async () => {
    const page = await open(at.address);
    await page.getByRole("link", { name: "today and boxes" }).click();
    await page.waitForURL("**/season");
    expect(await page.locator("main").textContent()).toContain("2 of 2 tried reeds suit, 1 of them once they were worked on.");
    await page.getByRole("link", { name: "B3" }).click();
    await page.waitForURL("**/box/B3/");
    expect(await page.locator("main").textContent()).toContain("Play now: B3-1. Worth work: B3-2.");
    expect(await page.locator("main img").evaluate((picture: HTMLImageElement) => picture.naturalWidth)).toBeGreaterThan(500);
    expect(await page.locator("tr").count()).toBe(11);
    expect(await page.textContent("body")).not.toMatch(/\[[a-z_]+\.[a-z_]+\]/);
  });

  test("a trial is three taps, its signs are read, and it is there when the page comes back", async () => {
    const page = await open(at.address + "reed/second/");
    expect(await page.locator(".whose").textContent()).toMatch(/^B3-2, box B3, Anna, \d{4}-\d\d-\d\d$/);
    expect(await page.title()).toContain("B3-2");
    const keep = page.locator("#trial button.main");
    expect(await keep.isDisabled()).toBe(true);
    for (const [mark, value] of [["response", "2"], ["evenness", "2"], ["tone", "4"]] as const)
      await page.locator("#trial fieldset", { hasText: mark }).getByText(value, { exact: true }).click();
    await page.locator("#trial summary").click();
    await page.getByLabel("freer side").selectOption("left");
    await page.getByLabel("in your words").fill("stuffy <b>right");
    await keep.click();
    await expect.poll(() => page.locator("#trial [role=status]").first().textContent()).toContain("Unbalanced, likely.");
    await page.getByLabel("one of my reference reeds").check();
    await expect.poll(() => page.locator("#trial [role=status]").count()).toBe(2);
    await page.reload();
    await page.waitForSelector("html[data-ready=yes]");
    expect(await page.locator(".ledger li").allTextContents()).toEqual([expect.stringMatching(/response 2, evenness 2, tone 4; stuffy <b>right$/)]);
    expect(await page.getByLabel("one of my reference reeds").isChecked()).toBe(true);
    expect(command("reed", "show", "B3-2")).toContain("reference reed");
  });

  test("a scan dropped with a label is that reed's next scan", async () => {
    const page = await open(at.address);
    await page.getByLabel("which reed").fill("B3-2");
    await page.locator("input[type=file]").setInputFiles(join(inject("box"), "scans", "reed-2-heavy-right-rail-scraped.ply"));
    await expect.poll(() => page.locator(".reeds strong").allTextContents(), { timeout: 30_000 }).toHaveLength(3);
    expect(command("reed", "show", "B3-2")).toMatch(/B3-2-\d{4}-\d\d-\d\d$/m);
  });

  test.each(["season", "box/B3/", "reed/second/"])("%s: nothing for axe to find, nothing wider than a phone", async (where) => {
    const page = await open(at.address + where, { ...phone, bypassCSP: true });
    await page.evaluate(axe);
    const found = await page.evaluate(async () => {
      const { violations } = await (window as unknown as { axe: { run: () => Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> } }).axe.run();
      return violations.map((v) => `${v.id}: ${v.nodes[0]?.html}`);
    });
    expect(found).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  });
});
