import { describe, expect, test } from "vitest";
import { type Fault, ReedMap, type Zone } from "../../src/data";
import { readingAt, section, strip, thicknessCsv } from "../../src/read_out";
import { base64, field, mapWith, thickness } from "./small_reed";

const zone: Zone = { along: "tip", across: "rail", difference_um: 40, u95_um: 6, tolerance_um: 10, verdict: "outside" };
const map = mapWith({
  thickness,
  u95: field([NaN, 3, 3, NaN], [4, 4, 4, 4], [5, 5, 5, 5]),
  difference: field([NaN, 10, 10, NaN], [40, 10, 10, 40], [0, 0, 0, 0]),
  zone: field([-1, 0, 0, -1], [0, 0, 0, 0], [-1, -1, -1, -1]),
});

describe("at the cursor", () => {
  test("the value of the cell that holds the place, with its uncertainty and its zone", () => {
    expect(readingAt(map, [zone], 1.2, 1.9)).toMatchObject({ row: 1, column: 3, thickness_um: 240, u95_um: 4, zone });
    expect(readingAt(map, [zone], 1.2, -1.9)).toMatchObject({ column: 0, thickness_um: 200, difference_um: 40 });
  });
  test("no zone behind the last one, nothing beyond the map, no number where nothing was seen", () => {
    expect(readingAt(map, [zone], 2.5, 0.5)?.zone).toBeNull();
    expect(readingAt(map, [zone], 3.1, 0)).toBeNull();
    expect(readingAt(map, [zone], 1, 2.1)).toBeNull();
    expect(readingAt(map, [zone], 0.5, 1.5)?.thickness_um).toBeNaN();
  });
});

describe("a fault at the cursor", () => {
  const fault: Fault = { place: { id: "verbatim" }, side: "left", across: "rail", in_heart: false, from_mm: 1, to_mm: 2, difference_um: 40, u95_um: 5, tolerance_um: 10, thin: false };
  const faulty = mapWith({ thickness, fault: field([-1, -1, -1, -1], [0, -1, -1, 0], [-1, -1, -1, -1]) });
  test("is named where its cells are, on both sides, and nowhere else", () => {
    expect(readingAt(faulty, [zone], 1.2, -1.9, [fault])?.fault).toBe(fault);
    expect(readingAt(faulty, [zone], 1.2, 1.9, [fault])?.fault).toBe(fault);
    expect(readingAt(faulty, [zone], 1.2, 0.4, [fault])?.fault).toBeNull();
    expect(readingAt(map, [zone], 1.2, -1.9, [fault])?.fault).toBeNull();
  });
});

describe("curves", () => {
  test("across: both sides over the distance from the centreline", () => {
    expect(section(map, 1.4)).toEqual({ left: [[0.5, 300], [1.5, 200]], right: [[0.5, 310], [1.5, 240]] });
  });
  test("along: the mean of a strip, row by row, gaps left out", () => {
    expect(strip(map, -0.2, 0.2, 3)).toEqual([[0.5, 105], [1.5, 305], [2.5, 500]]);
    expect(strip(map, 0.3, 0.7, 3)).toEqual([[1.5, 275], [2.5, 450]]);
  });
  test("along: a rim that runs aslant to the cells makes no jumps", () => {
    const columns = 40;
    const rows = 30;
    const values = Array.from({ length: rows * columns }, (_, k) => 1000 - 100 * Math.abs((Math.floor(k / rows) + 0.5 - 20) * 0.25));
    const aslant = new ReedMap({ cell_mm: 0.25, rows, columns }, { thickness: base64(values) }, Array.from({ length: rows }, (_, r) => 4 + 0.02 * r), [], 7.5);
    const steps = strip(aslant, 0.75, 0.9, 8).map((p) => p[1]);
    for (const [r, value] of steps.entries()) expect(value).toBeCloseTo(1000 - 100 * 0.825 * (4 + 0.02 * r), 2);
  });
});

test("the table has one line a measured cell, as the command's thickness.csv", () => {
  const lines = thicknessCsv(map).split("\n");
  expect(lines[0]).toBe("x_mm,y_mm,thickness_mm,u95_mm");
  expect(lines[1]).toBe("0.500,-0.500,0.10000,0.00300");
  expect(lines.filter((l) => l !== "")).toHaveLength(11);
});
