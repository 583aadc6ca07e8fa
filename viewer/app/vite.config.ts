import { defineConfig } from "vitest/config";

// One script and one style sheet with fixed names: the command embeds both, the report inlines them.
export default defineConfig({
  esbuild: { legalComments: "none", jsx: "automatic", jsxImportSource: "preact" },
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
