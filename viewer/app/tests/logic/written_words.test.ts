/// <reference types="node" />
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { allWords, isWord, kinds, strengths, terms, wordIn, written } from "../../src/catalogue";
import { convertSentence } from "../../src/length_words";
import { writtenIn } from "../../src/written_words";

const here = dirname(fileURLToPath(import.meta.url));
const source = (file: string) => readFileSync(join(here, "../../../..", file), "utf8");

/// The texts of a C++ file, those written in pieces joined; what format() fills in becomes a hole.
function texts(code: string): string[] {
  const withoutComments = code.replace(/^\s*\/\/.*$|^#include.*$/gm, "");
  return [...withoutComments.matchAll(/"(?:[^"\\]|\\.)*"(?:\s*"(?:[^"\\]|\\.)*")*/g)].map((found) =>
    [...found[0].matchAll(/"((?:[^"\\]|\\.)*)"/g)].map((piece) => piece[1] ?? "").join("").replaceAll('\\"', '"').replaceAll("\\n", " ").replace(/\{[^{}]*\}/g, "{}"),
  );
}
/// What stands between holes and tags, if it says something.
function saying(text: string): string[] {
  return text
    .replace(/<[^>]*>/g, "{}")
    .split(/\{\w*\}/)
    .map((part) => part.replace(/^[\s,;:.()[\]%±+]+|[\s,;:.()[\]%±+]+$/g, ""))
    .filter((part) => /\p{L}{2}/u.test(part));
}

/// Whether `part` stands in one of `pieces`, or several of them one after the other make it.
function madeOf(part: string, pieces: ReadonlySet<string>): boolean {
  const all = [...pieces];
  const bare = (text: string) => text.replace(/^[\s,;:.()[\]]+/, "");
  const goesOn = (rest: string): boolean =>
    rest === "" || all.some((p) => p.startsWith(rest)) || all.some((p) => rest.startsWith(p) && goesOn(bare(rest.slice(p.length))));
  if (all.some((p) => p.includes(part))) return true;
  const cuts = [...part.matchAll(/[\s,;:.]+/g)];
  return cuts.some((cut) => all.some((p) => p.endsWith(part.slice(0, cut.index))) && goesOn(part.slice(cut.index + cut[0].length)));
}

/// Where the sentences that a page shows are written.
const wording = [
  "scanproc/pipeline/headline.cpp", "scanproc/pipeline/laid_anew.cpp", "scanproc/pipeline/comparison_words.cpp", "scanproc/pipeline/rig_notes.cpp", "scanproc/pipeline/pipeline.cpp",
  "scanproc/scrape/plan_words.cpp", "scanproc/mechanics/strength.cpp", "scanproc/mechanics/bend_reed.cpp", "scanproc/mechanics/bending_figures.cpp",
  "scanproc/mechanics/cane.cpp", "scanproc/mechanics/player.cpp", "scanproc/mechanics/reed_plate.cpp", "scanproc/report/reed_page.cpp",
  "scanproc/report/comparison_page.cpp", "scanproc/report/table_words.cpp", "scanproc/thickness/components.cpp", "scanproc/assess/budget_table.cpp",
  "scanproc/assess/zones.cpp", "scanproc/assess/conformity.cpp", "scanproc/datum/instrument.h", "scanproc/datum/align.cpp",
  "scanproc/datum/rig_correction.cpp", "scanproc/datum/passes.cpp", "scanproc/datum/two_sided.cpp", "scanproc/datum/ties.cpp", "scanproc/pipeline/comparison.cpp",
  "viewer/server/server.cpp", "scanproc/cli/measure_command.cpp", "scanproc/assess/target.cpp", "scanproc/pipeline/result.h",
  "scanproc/pipeline/result_json.cpp", "scanproc/core/moisture.h", "scanproc/assess/targets/bass-filed-rounded.json", "scanproc/scrape/scrape_steps.cpp", "scanproc/datum/plate.cpp", "scanproc/pipeline/unit_guess.cpp",
  "scanproc/datum/reed_finder.cpp", "scanproc/datum/rim.cpp", "scanproc/datum/place_reed.cpp", "scanproc/thickness/measure_thickness.cpp", "scanproc/pipeline/load_scans.cpp",
  "scanproc/scan/mesh.cpp",
];
const commandSays = new Set(wording.flatMap((file) => texts(source(file)).flatMap(saying)));

describe("what the command writes", () => {
  test.each(written.map(([en]) => en))("is known by its English: %s", (english) => {
    for (const part of saying(english)) expect(madeOf(part, commandSays), part).toBe(true);
  });
  test.each(terms.map(([en]) => en))("has the term: %s", (english) => {
    for (const part of saying(english)) expect(madeOf(part, commandSays), part).toBe(true);
  });

  // Sentences without a translation would stay English without anyone being told.
  const parts = (of: object): string[] => Object.values(of).flatMap((v: unknown) => (typeof (v as unknown[])[0] === "string" ? [(v as string[])[0] ?? ""] : parts(v as object)));
  const known = new Set([...written.map(([en]) => en), ...terms.map(([en]) => en), ...allWords.map((w) => wordIn("en", w)), ...parts(kinds), ...parts(strengths)].flatMap(saying));
  // Names in files and of files, forms of dates and numbers, and what only the terminal says.
  const notShown = /^(\w+_(um|rel)|nothing to do|cannot save|veto|two-sided|Y-%m-.*|Hz|[\w-]+\.(png|html|json)|Picture and page|Sharp blade: .*|the plate's triangles .*|1 to 20 modes .*|0f mm|1e mm|the cell must be .*|the edge margin .*|layings of this reed)$/;
  test.each(["scanproc/pipeline/headline.cpp", "scanproc/pipeline/laid_anew.cpp", "scanproc/pipeline/comparison_words.cpp", "scanproc/scrape/plan_words.cpp", "scanproc/mechanics/strength.cpp", "scanproc/report/table_words.cpp", "scanproc/pipeline/rig_notes.cpp", "scanproc/report/reed_page.cpp", "scanproc/report/comparison_page.cpp", "scanproc/mechanics/bend_reed.cpp", "scanproc/datum/reed_finder.cpp", "scanproc/datum/rim.cpp", "scanproc/datum/plate.cpp", "scanproc/thickness/measure_thickness.cpp"])(
    "is translated whole: %s",
    (file) => {
      const missing = texts(source(file))
        .flatMap(saying)
        .filter((part) => !notShown.test(part) && !isWord(part) && !madeOf(part, known));
      expect(missing).toEqual([]);
    },
  );
  test("every instrument and target has its name", () => {
    const titles = [...source("scanproc/datum/instrument.h").matchAll(/Instrument\{"[^"]+", "([^"]+)"/g)].map((m) => m[1]);
    expect(titles.length).toBeGreaterThan(5);
    expect(kinds.instruments.map(([en]) => en)).toEqual(titles);
  });
});

describe("German", () => {
  const german = (text: string) => writtenIn("de", text);
  test("what the reed is, its zone and kind translated, numbers kept", () => {
    expect(german("Filed B-flat clarinet reed, medium blank: the left rail is on average 31 µm thicker than the right between 5 and 14 mm from the tip (tolerance 15 µm).")).toBe(
      "Blatt für B-Klarinette, gefeilt, mittlerer Rohling: linker Rand im Mittel 31 µm dicker als rechts zwischen 5 und 14 mm von der Spitze (Toleranz 15 µm).",
    );
    expect(
      german(
        "B-flat clarinet reed, thin blank: the left half of the heart is on average 40 µm thinner than the right between 9 and 22 mm from the tip (tolerance 15 µm). The rest of this reed says that this side is thin, not the other thick.",
      ),
    ).toBe(
      "Blatt für B-Klarinette, dünner Rohling: linke Hälfte des Herzens im Mittel 40 µm dünner als rechts zwischen 9 und 22 mm von der Spitze (Toleranz 15 µm). Das übrige Blatt sagt, dass diese Seite zu dünn ist, nicht die andere zu dick.",
    );
    expect(german("B-flat clarinet reed, probably thin blank: left and right agree within tolerance everywhere. The tip is chipped.")).toBe(
      "Blatt für B-Klarinette, wohl dünner Rohling: Links und rechts gleichen sich überall innerhalb der Toleranz. Die Spitze ist beschädigt.",
    );
  });
  test("sentences one after the other", () => {
    expect(german("That does not balance it: scan again afterwards. The tip is chipped.")).toBe("Das gleicht es nicht aus: danach neu scannen. Die Spitze ist beschädigt.");
  });
  test("steps of strength", () => {
    expect(german("By its shape about a quarter harder than your reference; with what cane can do, a half softer to one and a half strengths harder.")).toBe(
      "Der Form nach etwa eine Viertelstärke schwerer als Ihre Referenz; mit dem, was Holz ausmachen kann, eine halbe Stärke leichter bis eineinhalb Stärken schwerer.",
    );
  });
  test("a sentence that begins with a zone begins large", () => {
    expect(german("The right flank, 3 to 9 mm from the tip: 12 µm more than planned (30 ±4 µm of 18 µm).")).toBe("Rechte Flanke, 3 bis 9 mm von der Spitze: 12 µm mehr als geplant (30 ±4 µm von 18 µm).");
  });
  test("the longer of two sentences that begin alike", () => {
    expect(german("At half of that the right side stands +3 µm against the left, +2 µm of it by the facing itself.")).toBe(
      "Bei der Hälfte davon steht die rechte Seite um +3 µm gegen die linke, +2 µm davon durch die Bahn selbst.",
    );
  });
  test("the space around it stays", () => {
    expect(german(" Chosen by you. ")).toBe(" Von Ihnen gewählt. ");
  });
  test.each(["Nobody ever wrote this.", "The tip is chipped. Nobody ever wrote this.", "Filed tuba reed, thin blank: left and right agree within tolerance everywhere."])(
    "what is not known stays as it is: %s",
    (text) => {
      expect(german(text)).toBeNull();
    },
  );
  test("a note with brackets in it is no target's title", () => {
    expect(german("Nobody ever wrote this (at all).")).toBeNull();
    expect(german("left and right: assumed: as the scanner gives them, not checked. Check once: stick a scrap of tape on the right rail, scan, and see it on the right in the picture (tip up, vamp towards you).")).toMatch(/^links und rechts: angenommen.* Einmal prüfen: .*zu Ihnen\)\.$/);
    expect(german("My best (mean of 3 reeds).")).toBe("My best (Mittel von 3 Blättern).");
  });
  test("spheres are counted", () => {
    expect(german("Datum: both sides were seen, so the thickness is the cane's own and the table's form is measured. Scans brought together by 4 spheres, 3.0 µm left between them.")).toMatch(/durch 4 Kugeln, 3,0 µm/);
  });
  test("English is left alone", () => {
    expect(writtenIn("en", "Nobody ever wrote this.")).toBe("Nobody ever wrote this.");
  });
  test("every sentence with something in its holes", () => {
    const values = (index: 0 | 1) => (text: string) =>
      text
        .replace(/\{n\d*\}/g, index === 0 ? "-12.5" : "-12,5")
        .replace(/\{w2?\}/g, index === 0 ? "left" : "links")
        .replace(/\{w\d\}/g, index === 0 ? "right" : "rechts")
        .replace(/\{x\d*\}/g, "any.ply");
    for (const [en, de] of written) {
      const text = values(0)(en);
      const filled = values(1)(de);
      // A sentence that begins with a hole begins large, as the English does.
      const begun = /^[A-Z]/.test(text) ? (filled[0] ?? "").toUpperCase() + filled.slice(1) : filled;
      expect(german(text), en).toBe(begun);
    }
    for (const [en, de] of written) {
      const holes = (text: string) => [...text.matchAll(/\{\w+\}/g)].map((m) => m[0]).sort();
      expect(holes(de), en).toEqual(holes(en));
    }
  });
  test("its lengths follow the reader's unit", () => {
    expect(convertSentence("10 bis 20 µm", "thou", ",")).toBe("0,39 bis 0,79 thou");
    expect(convertSentence("2,5 µm", "thou", ",")).toBe("0,098 thou");
  });
});
