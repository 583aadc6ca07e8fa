// report.html, opened from disk: every view draws, and says what the command's other files say.
import { readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, inject, test } from "vitest";
import { browserForTests, clickAt, comparison, faulty, look, numbersIn, picture, reportOf, show } from "./pages";
import { type Message, sentences } from "../../src/speech";

const open = browserForTests();
const file = (name: string) => join(inject("box"), faulty, name);
interface Zone {
  along: string;
  across: string;
  difference: { mean_mm: number };
}
const result = () => JSON.parse(readFileSync(file("result.json"), "utf8")) as { headline: Message[]; balance: { zones: Zone[] } };

describe("one file", () => {
  test("of at most 3 MB that asks nothing of any network", async () => {
    expect(statSync(fileURLToPath(reportOf(faulty))).size).toBeLessThan(3e6);
    const page = await open(reportOf(faulty));
    const asked: string[] = [];
    page.on("request", (r) => asked.push(r.url()));
    await page.reload();
    await page.waitForSelector("html[data-ready=yes]");
    expect(asked.filter((address) => !/^(file|data|blob):/.test(address))).toEqual([]);
  });
  test("the steps' words are the command's", async () => {
    const page = await open(reportOf(faulty));
    const context = await page.context().browser()?.newContext({ javaScriptEnabled: false });
    const plain = await context?.newPage();
    await plain?.goto(reportOf(faulty));
    const spaceless = (all: string[] | undefined) => all?.map((text) => text.replace(/\s+/g, ""));
    expect(spaceless(await page.locator("ol.steps li").allTextContents())).toEqual(spaceless(await plain?.locator("ol.steps li").allTextContents()));
    await context?.close();
  });
  test("the sentence comes first, and is the result's", async () => {
    const page = await open(reportOf(faulty));
    expect(await page.locator("h1").textContent()).toBe(sentences(result().headline, { language: "en", unit: "um" }));
    const [sentence, picture] = [await page.locator("h1").boundingBox(), await page.locator(".stage").boundingBox()];
    expect(sentence?.y).toBeLessThan(picture?.y ?? 0);
    for (const fold of await page.locator("main details:not(.menu)").all()) expect(await fold.getAttribute("open")).toBeNull();
  });
});

test("the demo's box shows every reed's picture and leads to its report", async () => {
  const context = await open(reportOf(faulty));
  const page = await context.context().newPage();
  await page.goto("file://" + join(inject("box"), "index.html"));
  const widths = await page.locator(".reeds img").evaluateAll((all) => all.map((i) => (i as HTMLImageElement).naturalWidth));
  expect(widths).toHaveLength(5);
  expect(Math.min(...widths)).toBeGreaterThan(100);
  await page.locator(".reeds a").nth(1).click();
  await page.waitForSelector("html[data-ready=yes]");
  expect(await page.locator("h1").textContent()).toBe(sentences(result().headline, { language: "en", unit: "um" }));
});

describe("every view draws", () => {
  const colours = ["leftRight", "thickness", "target", "sureness", "stiffness", "balance", "plan"];
  test.each(["surface", "flat"] as const)("%s: seven colourings, none blank, no two alike", async (view) => {
    const page = await open(reportOf(faulty));
    const seen = new Set<string>();
    await show(page, view);
    expect(await page.locator(".choices option").evaluateAll((all) => all.map((o) => (o as HTMLOptionElement).value))).toEqual(colours);
    for (const name of colours) {
      await show(page, view, name);
      const png = await picture(page);
      const { colours: count, covered } = await look(page, png);
      expect(covered, name).toBeGreaterThan(0.1);
      expect(count, name).toBeGreaterThan(30);
      seen.add(png.toString("base64"));
    }
    expect(seen.size).toBe(colours.length);
  });
  test("folded: half a reed, and only what compares the sides", async () => {
    const page = await open(reportOf(faulty));
    await show(page, "flat");
    const whole = await look(page, await picture(page));
    await show(page, "folded");
    const half = await look(page, await picture(page));
    expect(half.covered / whole.covered).toBeGreaterThan(0.35);
    expect(half.covered / whole.covered).toBeLessThan(0.8);
    expect(await page.locator(".choices option").count()).toBe(1);
  });
  test("the picture is the view's own, from whatever view one comes", async () => {
    const page = await open(reportOf(faulty));
    const widths = async () => page.locator("svg.flat image").evaluateAll((all) =>
      Promise.all(all.map(async (i) => {
        const picture = new Image();
        picture.src = i.getAttribute("href") ?? "";
        await picture.decode();
        return picture.naturalWidth;
      })),
    );
    await show(page, "flat");
    const [whole = 0] = await widths();
    await show(page, "folded");
    expect(await widths()).toEqual([whole / 2]);
    await show(page, "flat");
    expect(await widths()).toEqual([whole]);
    await show(page, "surface");
    await show(page, "folded");
    expect(await widths()).toEqual([whole / 2]);
  });
  test("marks are on the surface as on the map: the less side is dotted", async () => {
    const page = await open(reportOf(faulty));
    await show(page, "surface", "leftRight");
    const dots = await page.locator("canvas.surface").evaluate((c) => {
      const canvas = c as HTMLCanvasElement;
      const copy = document.createElement("canvas");
      [copy.width, copy.height] = [canvas.width, canvas.height];
      const context = copy.getContext("2d") as CanvasRenderingContext2D;
      context.drawImage(canvas, 0, 0);
      const pixels = context.getImageData(0, 0, copy.width, copy.height).data;
      let blue = 0;
      let dark = 0;
      for (let k = 0; k < pixels.length; k += 4) {
        const [r = 0, g = 0, b = 0] = pixels.slice(k, k + 3);
        if (b > r + 40) blue++;
        // Dark and grey, left of the middle: no outline of a step is there.
        if (r < 95 && g < 110 && b < 130 && pixels[k + 3] === 255 && (k / 4) % copy.width < copy.width / 2) dark++;
      }
      return { blue, dark };
    });
    expect(dots.blue).toBeGreaterThan(500);
    expect(dots.dark).toBeGreaterThan(20);
  });
  test("the surface turns, comes closer, grows in height, bends and swings", async () => {
    const page = await open(reportOf(faulty));
    await show(page, "surface");
    await page.locator(".stage").focus();
    const seen = [await picture(page)];
    const changed = async (what: string) => {
      // The sharp picture comes when the turning has ended.
      await page.waitForTimeout(400);
      const now = await picture(page);
      expect(now.equals(seen.at(-1) as Buffer), what).toBe(false);
      seen.push(now);
    };
    for (const key of ["a", "w", "+", "]"]) {
      await page.keyboard.press(key);
      await changed(key);
    }
    await page.keyboard.press("f");
    await changed("f");
    const box = await page.locator(".stage").boundingBox();
    if (!box) throw new Error("no stage");
    await page.mouse.move(box.x + 100, box.y + 100);
    await page.mouse.down();
    await page.mouse.move(box.x + 180, box.y + 120, { steps: 4 });
    await page.mouse.up();
    await changed("drag");
    const movement = page.locator(".tools select").first();
    expect(await movement.locator("option").count()).toBe(2 + 6);
    for (const which of ["bent", "0", "1"]) {
      await movement.selectOption(which);
      await changed(which);
      await changed(which + " goes on");
    }
    await movement.selectOption("still");
    await page.waitForTimeout(400);
    const still = await picture(page);
    await page.waitForTimeout(400);
    expect((await picture(page)).equals(still)).toBe(true);
  });
  test("grid, zones and the whole reed come and go", async () => {
    const page = await open(reportOf(faulty));
    await show(page, "flat");
    const seen = new Set([(await picture(page)).toString("base64")]);
    for (const name of ["zones", "mm grid"]) {
      await page.getByLabel(name).click();
      seen.add((await picture(page)).toString("base64"));
    }
    await page.locator(".tools select").selectOption("whole");
    seen.add((await picture(page)).toString("base64"));
    expect(seen.size).toBe(4);
    expect(numbersIn(await page.locator("svg.flat > g").last().locator("text").allTextContents().then((t) => t.join(" ")))).toContain(65);
  });
  test("what the scan cannot tell is striped grey, not coloured", async () => {
    const page = await open(reportOf(faulty));
    await show(page, "flat", "thickness");
    const greys = await page.locator("svg.flat image").evaluate(async (image) => {
      const picture = new Image();
      picture.src = image.getAttribute("href") ?? "";
      await picture.decode();
      const canvas = document.createElement("canvas");
      canvas.width = picture.naturalWidth;
      canvas.height = picture.naturalHeight;
      const context = canvas.getContext("2d") as CanvasRenderingContext2D;
      context.drawImage(picture, 0, 0);
      // The map's corner lies beyond the reed's rounded tip.
      const patch = context.getImageData(0, 0, 12, 12).data;
      const values = new Set<string>();
      for (let k = 0; k < patch.length; k += 4) values.add([patch[k], patch[k + 1], patch[k + 2]].join());
      return [...values];
    });
    expect(greys.length).toBeGreaterThan(1);
    for (const grey of greys) expect(new Set(grey.split(",")).size, grey).toBe(1);
  });
  test("curves: across, along with the target's band, closing, compliance, bars", async () => {
    const page = await open(reportOf(faulty));
    for (const details of await page.locator("main details:not(.menu)").all()) await details.evaluate((d) => ((d as HTMLDetailsElement).open = true));
    for (const [name, curves] of [["section", 2], ["profiles", 3], ["closing", 3], ["compliance", 3]] as const) {
      const paths = page.locator(`[data-chart=${name}] > svg g[clip-path] path:not([fill-opacity])`);
      const lines = await paths.evaluateAll((all) => all.map((p) => (p.getAttribute("d") ?? "").length));
      expect(lines.filter((length) => length > 100), name).toHaveLength(curves);
    }
    expect(await page.locator("[data-chart=profiles] path[fill-opacity]").count()).toBe(2);
    expect(await page.locator("[data-chart=bars] > svg rect").count()).toBeGreaterThan(6);
  });
});

describe("one cursor for all views, and it reads", () => {
  test("what thickness.csv says, at places over the vamp", async () => {
    const page = await open(reportOf(faulty));
    await show(page, "flat", "thickness");
    const rows = readFileSync(file("thickness.csv"), "utf8").trim().split("\n").slice(1).map((line) => line.split(",").map(Number));
    const inVamp = rows.filter(([x = 0]) => x > 1 && x < 33);
    let checked = 0;
    for (let k = 50; k < inVamp.length; k += Math.floor(inVamp.length / 14)) {
      const [x = 0, y = 0, thickness = 0, u = 0] = inVamp[k] ?? [];
      await clickAt(page, x, y);
      const [read = NaN, read_u = NaN] = numbersIn(await page.locator("[data-read=thickness]").textContent());
      expect(Math.abs(read - 1000 * thickness), `${x}, ${y}`).toBeLessThanOrEqual(0.51);
      expect(Math.abs(read_u - Math.max(1, 1000 * u))).toBeLessThanOrEqual(0.51);
      checked++;
    }
    expect(checked).toBeGreaterThan(12);
  });
  test("folded: the differences of result.json, in every zone", async () => {
    const page = await open(reportOf(faulty));
    await show(page, "folded");
    const shown = await page.locator("svg.flat g[text-anchor=middle] text tspan:first-child").allTextContents();
    const known = result().balance.zones.map((z) => 1000 * z.difference.mean_mm);
    expect(shown).toHaveLength(known.length);
    for (const [k, text] of shown.entries()) expect(Math.abs(Number(text) - (known[k] ?? NaN))).toBeLessThanOrEqual(0.51);
    await clickAt(page, 13, 5.4);
    const heavy = result().balance.zones.find((z) => z.along === "middle" && z.across === "rail");
    const zoneLine = await page.locator(".readout p").last().textContent();
    expect(Math.abs((numbersIn(zoneLine)[0] ?? NaN) - 1000 * (heavy?.difference.mean_mm ?? NaN))).toBeLessThanOrEqual(0.06);
    expect(zoneLine).toContain("outside tolerance");
  });
  test("the left side reads the opposite sign's partner, the section shows both", async () => {
    const page = await open(reportOf(faulty));
    await show(page, "flat");
    await clickAt(page, 13.125, 5.375);
    const right = await page.locator("[data-read=difference]").textContent();
    await clickAt(page, 13.125, -5.375);
    expect(await page.locator("[data-read=difference]").textContent()).toBe(right);
    await show(page, "surface");
    expect(await page.locator(".readout").textContent()).toContain("5.4 mm left");
    expect(await page.locator("[data-chart=section] figcaption").textContent()).toContain("13.1");
  });
  test("a click into a curve moves it along the reed", async () => {
    const page = await open(reportOf(faulty));
    await page.locator("[data-chart=profiles] > svg").scrollIntoViewIfNeeded();
    const box = await page.locator("[data-chart=profiles] > svg").boundingBox();
    if (!box) throw new Error("no chart");
    const before = await page.locator(".readout").textContent();
    await page.mouse.click(box.x + 0.9 * box.width, box.y + 0.5 * box.height);
    expect(await page.locator(".readout").textContent()).not.toBe(before);
    expect(numbersIn(await page.locator(".readout p").first().textContent())[0]).toBeGreaterThan(25);
  });
  test("a picture of the surface under the mouse gives the same place as the flat map", async () => {
    const page = await open(reportOf(faulty));
    await show(page, "surface");
    const box = await page.locator("canvas.surface").boundingBox();
    if (!box) throw new Error("no surface");
    await page.mouse.click(box.x + 0.5 * box.width, box.y + 0.5 * box.height);
    const [from_tip = NaN] = numbersIn(await page.locator(".readout p").first().textContent());
    expect(from_tip).toBeGreaterThan(10);
    expect(from_tip).toBeLessThan(25);
  });
});

test("a finger that taps the surface moves the cursor, one that turns it does not", async () => {
  const page = await open(reportOf(faulty), { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  await show(page, "surface");
  await page.locator("canvas.surface").scrollIntoViewIfNeeded();
  const box = await page.locator("canvas.surface").boundingBox();
  if (!box) throw new Error("no surface");
  const read = () => page.locator(".readout p").first().textContent();
  const before = await read();
  await page.touchscreen.tap(box.x + 0.5 * box.width, box.y + 0.5 * box.height);
  const tapped = await read();
  expect(tapped).not.toBe(before);
  const touch = await page.context().newCDPSession(page);
  const send = (type: "touchStart" | "touchMove" | "touchEnd", x: number, y: number) =>
    touch.send("Input.dispatchTouchEvent", { type, touchPoints: type === "touchEnd" ? [] : [{ x, y }] });
  await send("touchStart", box.x + 100, box.y + 150);
  for (let k = 1; k <= 8; k++) await send("touchMove", box.x + 100 + 10 * k, box.y + 150);
  await send("touchEnd", 0, 0);
  expect(await read()).toBe(tapped);
});

test.each([
  ["desktop", { width: 1280, height: 900 }],
  ["phone", { width: 390, height: 844 }],
])("no word of a curve is cut off: %s", async (_, viewport) => {
  const page = await open(reportOf(faulty), { viewport });
  await page.evaluate(() => document.querySelectorAll("main details").forEach((d) => d.setAttribute("open", "")));
  const cut = await page.locator(".chart > svg").evaluateAll((charts) =>
    charts.flatMap((chart) => {
      const frame = chart.getBoundingClientRect();
      return [...chart.querySelectorAll("text")]
        .filter((text) => {
          const box = text.getBoundingClientRect();
          return box.left < frame.left - 0.5 || box.right > frame.right + 0.5 || box.top < frame.top - 0.5 || box.bottom > frame.bottom + 0.5;
        })
        .map((text) => `${chart.closest("figure")?.dataset.chart}: ${text.textContent}`);
    }),
  );
  expect(cut).toEqual([]);
  expect(await page.locator(".chart > svg").count()).toBeGreaterThan(3);
});

describe("before and after", () => {
  test("what came off, both scans with a line to wipe", async () => {
    const page = await open(comparison());
    await show(page, "flat", "removed");
    expect((await look(page, await picture(page))).covered).toBeGreaterThan(0.1);
    await show(page, "flat", "beforeAfter");
    await clickAt(page, 13, 5.4);
    const [was = NaN, is = NaN] = numbersIn((await page.locator(".readout").innerText()).split("\n").find((line) => line.includes("before")) ?? "");
    expect(was).toBeGreaterThan(60);
    expect(is).toBeLessThan(was - 20);
    for (const view of ["surface", "flat", "folded"] as const) {
      await show(page, view, "beforeAfter");
      const wipe = page.getByRole("slider", { name: /Before on the left/ });
      const seen = new Set<string>();
      for (const at of ["0", "0.4", "0.7", "0.85", "1"]) {
        await wipe.fill(at);
        await show(page, view);
        seen.add((await picture(page)).toString("base64"));
      }
      expect(seen.size, view).toBe(5);
    }
  });
  test("both scans in the curves: apart where cane came off, together where nobody scraped", async () => {
    const page = await open(comparison());
    await show(page, "flat");
    await clickAt(page, 13, 5.4);
    const curvesOf = (chart: string) =>
      page.locator(`[data-chart=${chart}] > svg g[clip-path] path[stroke]:not([stroke="none"])`).evaluateAll((paths) =>
        paths.slice(0, -1).map((path) => [...(path.getAttribute("d") ?? "").matchAll(/([\d.]+),([\d.]+)/g)].map((m) => [Number(m[1]), Number(m[2])] as const)),
      );
    /// Of two curves with points above the same places, mostly.
    const apart = (a: readonly (readonly [number, number])[], b: readonly (readonly [number, number])[]) => {
      const there = new Map(a.map(([x, y]) => [Math.round(x), y]));
      return Math.max(...b.map(([x, y]) => Math.abs((there.get(Math.round(x)) ?? y) - y)));
    };
    const [left = [], right = [], leftBefore = [], rightBefore = []] = await curvesOf("section");
    expect(right.length).toBeGreaterThan(10);
    expect(apart(right, rightBefore)).toBeGreaterThan(10);
    expect(apart(left, leftBefore)).toBeLessThan(3);
    const profiles = await curvesOf("profiles");
    expect(profiles).toHaveLength(6);
    const [, , rail = [], , leftRailBefore = [], railBefore = []] = profiles;
    expect(apart(rail, railBefore)).toBeGreaterThan(2);
    expect(apart(profiles[1] ?? [], leftRailBefore)).toBeLessThan(1);
    expect(await page.locator("[data-chart=section] .key").innerText()).toContain("right, before");
  });
});
