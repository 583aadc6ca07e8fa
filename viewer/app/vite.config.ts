import { defineConfig } from "vite";

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
  test: { include: ["tests/**/*.test.ts"] },
} as Parameters<typeof defineConfig>[0]);
