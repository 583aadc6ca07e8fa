import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { defineConfig } from "vitest/config";

const here = import.meta.dirname ?? new URL(".", import.meta.url).pathname;

/// The licences of what is built in go where it goes: packages by the text that they share.
function notices(): string {
  const lock = JSON.parse(readFileSync(join(here, "package-lock.json"), "utf8")) as { packages: Record<string, { dev?: boolean }> };
  const byText = new Map<string, string[]>();
  for (const [folder, about] of Object.entries(lock.packages)) {
    if (folder === "" || about.dev) continue;
    const file = readdirSync(join(here, folder)).find((name) => /^licen[cs]e/i.test(name));
    if (!file) throw new Error(`${folder}: has no licence to go with it`);
    const lines = readFileSync(join(here, folder, file), "utf8").trim().split(/\r?\n/);
    const holders = lines.filter((line) => /^copyright/i.test(line.trim())).map((line) => line.trim());
    const text = lines.filter((line) => !/^copyright/i.test(line.trim()) && !/licen[cs]e\)?$/i.test(line.trim())).join(" ").replace(/\s+/g, " ").trim();
    const name = folder.replace("node_modules/", "");
    byText.set(text, [...(byText.get(text) ?? []), `${name}: ${holders.join("; ")}`]);
  }
  return [...byText].map(([text, packages]) => `${packages.join("\n")}\n${text}`).join("\n\n");
}

/// Rooms of the catalogues whose messages never reach a page: the terminal's (but for the
/// demo's stories), the calibration's, those in pictures.
const notOnPages = new Set(
  ["cli", "screen", "picture", "picture_calib", "calib", "stage_calib", "plate_calib", "depth_calib", "board", "camera", "camera_file", "plane", "sheet"].concat(
    ["consistency", "gauge", "touch", "hand", "check", "reversal", "study", "rig_budget", "step", "bendsheet"],
  ),
);
function wordsOfPages(json: string): string {
  const all = JSON.parse(json) as Record<string, string>;
  return JSON.stringify(Object.fromEntries(Object.entries(all).filter(([id]) => id.startsWith("cli.demo.") || !notOnPages.has(id.split(".")[0] ?? ""))));
}

// One script and one style sheet with fixed names: the command embeds both, the report inlines them.
export default defineConfig({
  esbuild: { legalComments: "none", jsx: "automatic", jsxImportSource: "preact" },
  plugins: [
    {
      name: "words",
      enforce: "pre",
      transform: (code, id) => (/scanproc\/words\/\w+\.json$/.test(id) ? wordsOfPages(code) : undefined),
    },
    {
      name: "licences",
      enforce: "post",
      generateBundle(_, bundle) {
        for (const part of Object.values(bundle)) if (part.type === "chunk") part.code = `/*!\n${notices()}\n*/\n${part.code}`;
      },
    },
  ],
  build: {
    outDir: "../page",
    emptyOutDir: true,
    target: "es2022",
    reportCompressedSize: false,
    lib: { entry: "src/main.tsx", formats: ["iife"], name: "canewise", fileName: () => "app.js", cssFileName: "app" },
  },
  define: { "process.env.NODE_ENV": '"production"' },
  test: {
    projects: [
      { extends: true, test: { name: "logic", include: ["tests/logic/*.test.ts"] } },
      {
        extends: true,
        test: {
          name: "browser",
          include: ["tests/browser/*.test.ts"],
          globalSetup: "tests/browser/demo_box.ts",
          testTimeout: 90_000,
          hookTimeout: 60_000,
          // A browser that draws in software wants a core for itself.
          fileParallelism: false,
        },
      },
    ],
  },
});
