// The real server: a scan is dropped, measured, refused, cancelled, compared.
import { cpSync, readFileSync, readdirSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { describe, expect, inject, test } from "vitest";
import { faulty, look, picture, scraped, show } from "./pages";
import { served } from "./served";
import { type Message, sentences } from "../../src/speech";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const { at, serve, open } = served((folder) => {
  for (const reed of [faulty, scraped]) cpSync(join(inject("box"), reed), join(folder, reed), { recursive: true });
});

const planned = () => (JSON.parse(readFileSync(join(inject("box"), faulty, "result.json"), "utf8")) as { plan: { steps: unknown[] } }).plan.steps.length;
const scanOf = (reed: string) => readFileSync(join(inject("box"), "scans", reed + ".ply"));

/// As a hand drops it; the states that the page shows on the way are kept in window.states.
async function drop(page: Page, name: string, bytes: Buffer): Promise<void> {
  await page.evaluate(() => {
    const seen: string[] = ((window as unknown as { states: string[] }).states = []);
    new MutationObserver(() => {
      for (const job of document.querySelectorAll<HTMLElement>("li.job")) {
        const bar = job.querySelector("progress");
        const now = `${job.dataset.state} ${bar ? bar.value.toFixed(2) : ""} ${job.querySelector("span")?.textContent}`;
        if (seen.at(-1) !== now) seen.push(now);
      }
    }).observe(document.body, { subtree: true, childList: true, attributes: true, characterData: true });
  });
  const data = await page.evaluateHandle(
    ([file, text]) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([Uint8Array.from(atob(text), (c) => c.charCodeAt(0))], file));
      return transfer;
    },
    [name, bytes.toString("base64")] as const,
  );
  // Beside the box: all of the page takes it.
  await page.dispatchEvent("h1", "dragover", { dataTransfer: data });
  await page.dispatchEvent("h1", "drop", { dataTransfer: data });
}
const states = (page: Page) => page.evaluate(() => (window as unknown as { states: string[] }).states);

describe("a dropped scan", () => {
  test("is sent, measured in stages that are told, listed, and opens with the same reed as the command's", async () => {
    await serve();
    const page = await open(at.address);
    await page.getByLabel("The reed is").selectOption("dry");
    await drop(page, "Reed 2.ply", scanOf(faulty));
    await page.waitForSelector("li.job[data-state=done]", { timeout: 60_000 });
    const seen = await states(page);
    const stages = new Set(seen.filter((s) => s.startsWith("measuring")).map((s) => s.split(" ").slice(2).join(" ")));
    expect(stages.size).toBeGreaterThanOrEqual(4);
    const shares = seen.filter((s) => s.startsWith("measuring")).map((s) => Number(s.split(" ")[1]));
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    await expect.poll(() => page.locator(".reeds li").count()).toBe(3);
    await page.locator("li.job").getByRole("link", { name: "Open" }).click();
    await page.waitForSelector("html[data-ready=yes]");
    const known = JSON.parse(readFileSync(join(inject("box"), faulty, "result.json"), "utf8")) as { headline: Message[] };
    expect(await page.locator("h1").textContent()).toBe(sentences(known.headline, { language: "en", unit: "um" }));
    await show(page, "surface");
    expect((await look(page, await picture(page))).covered).toBeGreaterThan(0.1);
    await page.getByRole("button", { name: "Guide me" }).click();
    for (let k = 0; k < 12 && (await page.locator("dialog.guide").getAttribute("data-page")) !== "scan-again"; k++)
      await page.locator("dialog.guide .big-row button.main").first().click();
    await page.getByRole("link", { name: "Drop the new scan" }).click();
    await page.waitForSelector(".drop");
  });
  test("that is no reed is refused in the tool's own words, and the next one is measured", async () => {
    await serve();
    const page = await open(at.address);
    await drop(page, "not-a-reed.ply", Buffer.from("ply\nformat ascii 1.0\nelement vertex 1\n"));
    await page.waitForSelector("li.job[data-state=refused]", { timeout: 30_000 });
    const words = await page.locator("li.job p").first().textContent();
    // Named once, not twice.
    expect(words?.split("not-a-reed.ply")).toHaveLength(2);
    expect(words).toContain("PLY header");
    expect(words).not.toContain(at.folder);
    expect((words ?? "").length).toBeGreaterThan(40);
    await page.getByRole("button", { name: "Dismiss" }).click();
    expect(await page.locator("li.job").count()).toBe(0);
    expect(await page.locator(".reeds li").count()).toBe(2);
    await drop(page, "reed-1-even.ply", scanOf("reed-1-even"));
    await page.waitForSelector("li.job[data-state=done]", { timeout: 60_000 });
  });
  test("is refused in German by a German page, and its list is German too", async () => {
    await serve();
    const page = await open(at.address, { locale: "de-DE" });
    const header = "ply\nformat ascii 1.0\nelement vertex 2\nproperty float x\nproperty float y\nproperty float z\nend_header\n";
    await drop(page, "zwei-punkte.ply", Buffer.from(header + "0 0 0\n100 30 1\n"));
    await page.waitForSelector("li.job[data-state=refused]", { timeout: 30_000 });
    const words = page.locator("li.job p span").first();
    expect(await words.textContent()).toMatch(/^Enthält nur 2 Punkte/);
    expect(await page.locator("#home").getAttribute("lang")).toBe("de");
    expect(await page.locator(".reeds li a span").last().textContent()).toMatch(/B-Klarinette/);
  });
  test("can be cancelled while it is measured, and leaves nothing", async () => {
    await serve();
    const page = await open(at.address);
    await drop(page, "reed-1-even.ply", scanOf("reed-1-even"));
    await page.waitForSelector("li.job[data-state=measuring]", { timeout: 30_000 });
    await page.getByRole("button", { name: "Cancel" }).click();
    await page.waitForSelector("li.job[data-state=cancelled]");
    expect(await page.locator(".reeds li").count()).toBe(2);
    expect(readdirSync(at.folder).sort()).toEqual([faulty, scraped].sort());
  });
  test("that is too large is told so, with what to do", async () => {
    await serve("--largest-mb", "1");
    const page = await open(at.address);
    await drop(page, "reed-1-even.ply", scanOf("reed-1-even"));
    await page.waitForSelector("li.job[data-state=refused]", { timeout: 30_000 });
    expect(await page.locator("li.job p").first().textContent()).toMatch(/reed-1-even\.ply Is larger than the 1 MB .*canewise measure/);
  });
  test("is one of many: two are on their way, the others wait, each can be cancelled, and the page still answers", async () => {
    await serve();
    const page = await open(at.address);
    await page.locator(".drop input[type=file]").setInputFiles(
      Array.from({ length: 9 }, (_, k) => ({ name: `reed-${k}.ply`, mimeType: "application/octet-stream", buffer: k < 5 ? scanOf("reed-1-even") : Buffer.from("no reed") })),
    );
    await page.waitForSelector("li.job[data-state=measuring]", { timeout: 30_000 });
    await expect.poll(() => page.locator("li.job[data-state=waiting]").count(), { timeout: 30_000 }).toBeGreaterThanOrEqual(4);
    await page.locator("li.job").nth(8).waitFor();
    await page.locator("li.job").nth(8).getByRole("button", { name: "Cancel" }).click();
    expect(await page.locator("li.job").nth(8).getAttribute("data-state")).toBe("cancelled");
    const list = await page.evaluate(async () => (await fetch("/api/results")).status);
    expect(list).toBe(200);
    await expect.poll(() => page.locator("li.job[data-state=done]").count(), { timeout: 60_000 }).toBe(5);
    await expect.poll(() => page.locator("li.job[data-state=refused]").count(), { timeout: 30_000 }).toBe(3);
  });
  test("whose server ends while it is measured is told so, though the browser goes on trying", async () => {
    await serve();
    const page = await open(at.address);
    page.removeAllListeners("console");
    await drop(page, "reed-1-even.ply", scanOf("reed-1-even"));
    await page.waitForSelector("li.job[data-state=measuring]", { timeout: 30_000 });
    at.server.kill("SIGINT");
    await page.waitForSelector("li.job[data-state=lost]", { timeout: 30_000 });
  });
  test("that meets a server which is gone says so", async () => {
    await serve();
    const page = await open(at.address);
    await page.route("**/api/scans*", (route) => route.abort());
    page.removeAllListeners("console");
    await drop(page, "reed-1-even.ply", scanOf("reed-1-even"));
    await page.waitForSelector("li.job[data-state=lost]");
    expect(await page.locator("li.job").innerText()).toContain("Is it still running?");
  });
});

describe("the list", () => {
  test("has every result with its picture and its sentence", async () => {
    await serve();
    const page = await open(at.address);
    await expect.poll(() => page.locator(".reeds li").count()).toBe(2);
    await expect.poll(() => page.locator(".reeds img").evaluateAll((all) => all.every((i) => (i as HTMLImageElement).naturalWidth > 100))).toBe(true);
    expect(await page.locator(".reeds").innerText()).toMatch(/thicker than the (left|right) between/);
  });
  test("a reed's page has no violation in axe-core and leads back to the list", async () => {
    await serve();
    const page = await open(at.address + "reed/" + faulty + "/", { bypassCSP: true });
    await page.evaluate(axe);
    const found = await page.evaluate(async () => (await (window as unknown as { axe: { run: () => Promise<{ violations: { id: string }[] }> } }).axe.run()).violations.map((v) => v.id));
    expect(found).toEqual([]);
    await page.getByRole("link", { name: "All reeds" }).click();
    await page.waitForSelector(".drop");
  });
  test("compares two, the earlier before the later", async () => {
    await serve();
    const page = await open(at.address);
    for (const reed of [scraped, faulty]) await page.locator(".reeds").getByLabel(`compare ${reed}`, { exact: true }).check();
    await page.getByRole("link", { name: "Compare the two marked reeds" }).click();
    await page.waitForSelector("html[data-ready=yes]");
    expect(await page.locator("h1").textContent()).toContain("lost what was planned");
    await show(page, "flat", "beforeAfter");
    const half = await picture(page);
    await page.locator(".tools input[type=range]").fill("1");
    expect((await picture(page)).equals(half)).toBe(false);
  });
  const compareThem = () => at.address + `compare?before=${faulty}&after=${scraped}`;
  const depth = async (page: Page) => Number(/takes off ([\d.]+) µm/.exec(await page.locator("main").innerText())?.[1]);
  test("keeps what a stroke takes, once, and the next scan is planned with it", async () => {
    await serve();
    const page = await open(compareThem());
    const whole = await depth(page);
    for (const step of [/1\. right rail/, /2\. right rail/]) await page.getByLabel(step).fill("50");
    await page.getByRole("link", { name: "Count again" }).click();
    await page.waitForSelector("html[data-ready=yes]");
    const half = await depth(page);
    expect(half).toBeGreaterThan(1.3 * whole);
    await page.getByRole("button", { name: "Count with this hand from now on" }).click();
    await page.getByRole("status").filter({ hasText: "is kept" }).waitFor();
    const file = readFileSync(join(at.folder, "player.toml"), "utf8");
    expect(Number(/depth_per_stroke_um = ([\d.]+)/.exec(file)?.[1])).toBeCloseTo(half, 1);
    // The same scraping again adds nothing, whatever is said of its strokes.
    await page.goto(compareThem());
    await page.waitForSelector("html[data-ready=yes]");
    expect(await page.locator("#hand").innerText()).toContain("is kept");
    expect(await depth(page)).toBeCloseTo(half, 1);
    await page.goto(at.address);
    await drop(page, faulty + "-again.ply", scanOf(faulty));
    await page.waitForSelector("li.job[data-state=done]", { timeout: 60_000 });
    await page.getByRole("link", { name: "Open" }).click();
    await page.waitForSelector("html[data-ready=yes]");
    expect(await page.locator("main").innerText()).toMatch(new RegExp(`Each stroke counts as ${half.toFixed(1)} µm, as your player file says`));
  });
  test("the comparison has no violation in axe-core and fits a phone", async () => {
    await serve();
    const page = await open(compareThem(), { viewport: { width: 390, height: 844 }, bypassCSP: true });
    expect(await page.locator("#hand input").count()).toBe(planned());
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await page.evaluate(axe);
    const found = await page.evaluate(async () => (await (window as unknown as { axe: { run: () => Promise<{ violations: { id: string }[] }> } }).axe.run()).violations.map((v) => v.id));
    expect(found).toEqual([]);
  });
  test("knows from the guide how many strokes were made", async () => {
    await serve();
    const page = await open(at.address + `reed/${faulty}/`);
    await page.getByRole("button", { name: "Guide me at the bench" }).click();
    await page.getByRole("button", { name: "I have read this" }).click();
    await page.getByRole("button", { name: "Yes, go on" }).click();
    await page.getByRole("button", { name: "All strokes done" }).click();
    for (let step = 1; step < planned(); step++) await page.getByRole("button", { name: "Skip" }).click();
    await page.goto(compareThem());
    await page.waitForSelector("html[data-ready=yes]");
    const all = await depth(page);
    expect(await page.getByLabel(/1\. right rail/).inputValue()).toBe("100");
    expect(await page.getByLabel(/2\. right rail/).inputValue()).toBe("0");
    await page.getByRole("link", { name: "Count again" }).click();
    await page.waitForSelector("html[data-ready=yes]");
    expect(new URL(page.url()).searchParams.get("strokes_done")).toBe("1" + ",0".repeat(planned() - 1));
    expect(await depth(page)).not.toBe(all);
    await page.getByRole("button", { name: "Count with this hand from now on" }).waitFor();
  });
  test("two scans that cannot be compared are refused in the reader's language", async () => {
    await serve();
    const page = await open(at.address + `compare?before=${faulty}&after=${faulty}`, { locale: "de-DE" });
    const alert = page.getByRole("alert");
    expect(await alert.textContent()).toMatch(/^Beide Ergebnisse kommen aus derselben Scandatei/);
    expect(await alert.locator("[data-say]").first().getAttribute("lang")).toBe("de");
    expect(await page.getByRole("link", { name: "Alle Blätter" }).count()).toBe(1);
  });
  test.each(["light", "dark"] as const)("has no violation in axe-core and fits a phone: %s", async (colorScheme) => {
    await serve();
    const page = await open(at.address, { colorScheme, viewport: { width: 390, height: 844 }, bypassCSP: true });
    await expect.poll(() => page.locator(".reeds li").count()).toBe(2);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    await page.evaluate(axe);
    const found = await page.evaluate(async () => (await (window as unknown as { axe: { run: () => Promise<{ violations: { id: string }[] }> } }).axe.run()).violations.map((v) => v.id));
    expect(found).toEqual([]);
  });
});
