// The page's weight, the time to its first picture, and the frames while the surface turns: node bench/page.mjs COMMAND
import { chromium } from "playwright-core";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const command = process.argv[2];
const box = mkdtempSync(join(tmpdir(), "canewise-page-bench-"));
// Notes when a picture is drawn, without a word from the page.
const watch = () => {
  const drawn = (window.drawn = []);
  for (const kind of [WebGLRenderingContext, WebGL2RenderingContext]) {
    const own = kind.prototype.drawElements;
    kind.prototype.drawElements = function (...all) {
      window.renderer ??= this.getParameter(this.getExtension("WEBGL_debug_renderer_info").UNMASKED_RENDERER_WEBGL);
      drawn.push(performance.now());
      return own.apply(this, all);
    };
  }
  // A frame is counted once, however many parts it has.
  window.framesSince = (from) => new Set(drawn.filter((t) => t >= from).map((t) => Math.round(t / 4))).size;
};
const median = (values) => values.sort((a, b) => a - b)[Math.floor(values.length / 2)];

try {
  execFileSync(command, ["demo", "--out", box]);
  const reports = readdirSync(box).filter((name) => name.startsWith("reed-") && !name.endsWith("-compare")).map((name) => join(box, name, "report.html"));
  const weights = reports.map((file) => statSync(file).size / 1e6);
  const page_weight = ["app.js", "app.css"].map((name) => statSync(new URL(`../../page/${name}`, import.meta.url)).size / 1e6).reduce((a, b) => a + b);
  console.log(`weight: script and style ${page_weight.toFixed(2)} MB, largest report ${Math.max(...weights).toFixed(2)} MB (at most 3)`);

  const software = process.env.CANEWISE_GPU ? [] : ["--use-gl=angle", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"];
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox", ...software] });
  for (const [name, size] of [["desktop", { width: 1280, height: 900 }], ["phone", { width: 390, height: 844 }]]) {
    const first = [];
    let rates = [];
    let renderer = "";
    for (let run = 0; run < 5; run++) {
      const context = await browser.newContext({ viewport: size });
      const page = await context.newPage();
      await page.addInitScript(watch);
      await page.goto("file://" + reports[1]);
      await page.waitForFunction(() => window.drawn.length > 0);
      first.push(await page.evaluate(() => window.drawn[0]));
      renderer = await page.evaluate(() => window.renderer);
      await page.locator("canvas.surface").scrollIntoViewIfNeeded();
      const at = await page.locator("canvas.surface").boundingBox();
      const [x, y] = [at.x + at.width / 2, at.y + at.height / 2];
      await page.mouse.move(x, y);
      await page.mouse.down();
      const begin = await page.evaluate(() => performance.now());
      for (let k = 0; k < 400 && (await page.evaluate((b) => performance.now() - b < 2000, begin)); k++)
        await page.mouse.move(x + 120 * Math.sin(k / 12), y + 30 * Math.sin(k / 29));
      rates.push(await page.evaluate((b) => window.framesSince(b) / ((performance.now() - b) / 1000), begin));
      await page.mouse.up();
      await context.close();
    }
    console.log(`${name}: first picture after ${median(first).toFixed(0)} ms (at most 1000), turning ${median(rates).toFixed(0)} frames a second (at least 30 in software, 60 with a graphics card); ${renderer}`);
  }
  await browser.close();
} finally {
  rmSync(box, { recursive: true, force: true });
}
