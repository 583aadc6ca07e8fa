/// <reference types="node" />
import { readFileSync, readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { type Word, allWords, isWord, languages, wordIn } from "../../src/catalogue";

const here = dirname(fileURLToPath(import.meta.url));
function sources(folder: string, ending: RegExp): string {
  const place = join(here, folder);
  return readdirSync(place)
    .filter((name) => ending.test(name) && name !== "catalogue.ts")
    .map((name) => readFileSync(join(place, name), "utf8"))
    .join("\n");
}
const script = sources("../../src", /\.tsx?$/);
const command = sources("../../../../scanproc/report", /\.cpp$/) + sources("../../../server", /\.cpp$/);

/// A C++ string that is written in pieces.
function joined(pieces: string): string {
  return [...pieces.matchAll(/"([^"]*)"/g)].map((m) => m[1]).join("");
}

describe("the catalogue", () => {
  test.each(allWords)("%s has text in every language", (name) => {
    for (const language of languages) expect(wordIn(language, name).trim(), language).not.toBe("");
  });
  test("no text is left over", () => {
    // Some names are put together from a part and a value, or are values of the data.
    const built = /^(caution_|place_|purpose_|rolling_|state_|details_|perTen_|side_|tip|front|middle|back|centre|flank|rail|within|outside|cannot tell)/;
    const unused = allWords.filter((w) => !built.test(w) && !script.includes(`"${w}"`) && !command.includes(`"${w}"`));
    expect(unused).toEqual([]);
  });
  test("the command names only words that are here", () => {
    const named = [...command.matchAll(/worded\("(\w+)"/g), ...command.matchAll(/data-text=\\"(\w+)\\"/g)].map((m) => m[1] as string);
    expect(named.length).toBeGreaterThan(3);
    expect(named.filter((w) => !isWord(w))).toEqual([]);
  });
  test("the command's English is the catalogue's", () => {
    const pairs = [...command.matchAll(/worded\("(\w+)",\s*((?:"[^"]*"\s*)+)/g)].map((m) => [m[1] as Word, joined(m[2] ?? "")] as const);
    expect(pairs.length).toBeGreaterThan(3);
    for (const [name, text] of pairs) expect(wordIn("en", name), name).toBe(text);
  });
  test("what comes after the last step is said alike on page and template", () => {
    const header = sources("../../../../scanproc/report", /^cautions_box\.h$/);
    expect(wordIn("en", "thenScan")).toBe(/kThenScan = "([^"]*)"/.exec(header)?.[1]);
  });
  test("the cautions are the plan's own", () => {
    const plan = sources("../../../../scanproc/scrape", /^scrape_plan\.h$/);
    const list = /kCautions\{([^}]*)\}/.exec(plan)?.[1] ?? "";
    const cautions = [...list.matchAll(/"([^"]*)"/g)].map((m) => m[1]);
    expect(cautions).toHaveLength(6);
    for (const [k, text] of cautions.entries()) expect(wordIn("en", `caution_${k + 1}` as Word)).toBe(text);
  });
});
