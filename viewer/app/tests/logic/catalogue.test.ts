/// <reference types="node" />
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { IntlMessageFormat } from "intl-messageformat";
import { describe, expect, test } from "vitest";
import { allIds, isWord, languages, patternIn } from "../../src/catalogue";

// tests/words/catalogue_test.cpp holds languages and sources against each other; here the page's reader of patterns
// must take what the command's takes.
describe("the catalogues", () => {
  test.each(languages)("every pattern of %s can be read by the page", (language) => {
    expect(allIds.length).toBeGreaterThan(500);
    for (const id of allIds) {
      const pattern = patternIn(language, id);
      expect(pattern, id).toBeDefined();
      expect(() => new IntlMessageFormat(pattern ?? "{", language, undefined, { ignoreTag: true }), id).not.toThrow();
    }
  });
  test("what the page says itself is there, and nothing that is inherited", () => {
    expect(isWord("left")).toBe(true);
    expect(isWord("toString")).toBe(false);
  });
});

describe("the cautions", () => {
  const here = dirname(fileURLToPath(import.meta.url));
  test("are the plan's own", () => {
    const plan = readFileSync(join(here, "../../../../scanproc/scrape/scrape_plan.h"), "utf8");
    const list = /kCautions\{([^}]*)\}/.exec(plan)?.[1] ?? "";
    const ids = [...list.matchAll(/"([^"]*)"/g)].map((m) => m[1] ?? "");
    expect(ids).toHaveLength(6);
    for (const id of ids) expect(patternIn("en", id), id).toBeDefined();
  });
});
