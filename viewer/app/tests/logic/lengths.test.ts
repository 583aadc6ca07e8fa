import { describe, expect, test } from "vitest";
import { convertNumbers, convertSentence, headingOrSentence } from "../../src/length_words";
import { lengthText } from "../../src/lengths";

// 25.4 um are a thousandth of an inch by definition (international yard, 1959).
describe("lengths in thousandths of an inch", () => {
  test("one number", () => {
    expect(lengthText(254, "thou")).toBe("10.00");
    expect(lengthText(-12.7, "thou", 1, true)).toBe("-0.500");
  });
  test("nought has no sign, in either unit", () => {
    expect(lengthText(-0.2, "um", 0, true)).toBe("0");
    expect(lengthText(0.3, "um", 0, true)).toBe("0");
    expect(lengthText(-0.04, "thou", 0, true)).toBe("0.00");
  });
  test.each([
    ["The right rail is 41 µm thicker.", "The right rail is 1.61 thou thicker."],
    ["It is 12.7 ±2.5 µm off.", "It is 0.500 ±0.098 thou off."],
    ["From 10 to 20 µm", "From 0.39 to 0.79 thou"],
    ["+10 µm and −10 µm", "+0.39 thou and -0.39 thou"],
    ["10–10 µm", "0.39–0.39 thou"],
    ["off 1 mm² and 3 µm²", "off 1 mm² and 3 µm²"],
    ["3 steps, 17 mm from the tip", "3 steps, 17 mm from the tip"],
  ])("in a sentence: %s", (um, thou) => {
    expect(convertSentence(um, "thou")).toBe(thou);
    expect(convertSentence(um, "um")).toBe(um);
  });
  test("the heading of a column names the unit of its numbers", () => {
    expect(headingOrSentence("U95, µm", "thou")).toBe("U95, thou");
    expect(headingOrSentence("difference in µm", "thou")).toBe("difference in thou");
    expect(headingOrSentence("U95, µm", "um")).toBe("U95, µm");
  });
  test("a column's numbers keep their signs and gain the digits they need", () => {
    expect(convertNumbers("+25.4 ±5", "thou")).toBe("+1.000 ±0.20");
  });
});
