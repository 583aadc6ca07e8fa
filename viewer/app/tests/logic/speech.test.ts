import { describe, expect, test } from "vitest";
import { type Argument, type Message, type Speech, numberText, phrase, sentences } from "../../src/speech";

const english: Speech = { language: "en", unit: "um" };
const verbatim = (text: Argument): Message => ({ id: "verbatim", text });

// The same as tests/words/speech_test.cpp: command and page say one thing alike.
describe("a message", () => {
  test("a length brings its unit and follows the reader", () => {
    expect(phrase(verbatim({ um: 24.4, decimals: 0 }), english)).toBe("24 µm");
    expect(phrase(verbatim({ um: 25.4, decimals: 0 }), { language: "en", unit: "thou" })).toBe("1.00 thou");
    expect(phrase(verbatim({ um: 2.54, decimals: 1 }), { language: "de", unit: "thou" })).toBe("0,100 thou");
    expect(phrase(verbatim({ mm: 12.25, decimals: 1 }), english)).toBe("12.3 mm");
    expect(phrase(verbatim({ mm: 12.25, decimals: 1 }), { language: "fr", unit: "thou" })).toBe("12,3 mm");
  });
  test("numbers have the reader's decimal sign and no grouping", () => {
    expect(phrase(verbatim({ number: 1234.5, decimals: 1 }), english)).toBe("1234.5");
    expect(phrase(verbatim({ number: -0.04, decimals: 1 }), english)).toBe("0.0");
    expect(phrase(verbatim({ um: 3, decimals: 0, signed: true }), english)).toBe("+3 µm");
    expect(numberText(-3, 0, false, "de")).toBe("-3");
  });
  test("each sentence begins with a capital letter", () => {
    expect(sentences([verbatim({ text: "über" }), verbatim({ text: "two." })], english)).toBe("Über Two.");
  });
  test("a part stands in its sentence, and text from outside is no pattern", () => {
    const message: Message = { id: "in_file", file: { text: "{a}" }, what: [verbatim({ text: "<b>#'" })] };
    expect(phrase(message, english)).toBe("{a}: <b>#'");
  });
  test("what no catalogue knows shows its id, and breaks nothing", () => {
    expect(phrase({ id: "no.such" }, english)).toBe("[no.such]");
    expect(phrase({ id: "in_file" }, english)).toBe("[in_file]");
    expect(phrase({ id: "constructor" }, english)).toBe("[constructor]");
  });
});
