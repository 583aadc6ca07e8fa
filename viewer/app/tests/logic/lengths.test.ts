import { describe, expect, test } from "vitest";
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
});
