import { describe, expect, test } from "vitest";
import { Palette, colouring, colourOf, colouringsOf, excess, inside, niceLimit, plannedDepth, unknownColour } from "../../src/colourings";
import type { Step } from "../../src/data";
import { dataWith, field, mapWith, thickness } from "./small_reed";

const palettes = { sequential: new Palette("000000ffffff"), diverging: new Palette("0000ff808080ff0000") };
const difference = { thickness, u95_difference: field([NaN, 5, 5, NaN], [5, 5, 5, 5], [5, 5, 5, 5]) };

function step(polygon: [number, number][], depth_um: number): Step {
  return { where: { id: "verbatim" }, stop: { id: "verbatim" }, side: "right", across: "rail", aim: "balance", for_bending: false, pause: 1, depth_um, strokes: 1, from_mm: 0, to_mm: 1, polygon };
}

describe("left against right", () => {
  const map = mapWith(difference);
  test("each side is shown over the place opposite, so that the thicker side is the lighter to see", () => {
    const over = excess(map);
    expect(over[map.index(1, 0)]).toBe(-40);
    expect(over[map.index(1, 3)]).toBe(40);
    expect(over[map.index(0, 2)]).toBe(10);
    expect(over[map.index(0, 0)]).toBeNaN();
  });
  test("less than its own uncertainty is pale, none at all is striped, more is told", () => {
    const c = colouring("leftRight", dataWith(), map);
    expect(c.look(map.index(1, 3)).trust).toBe("known");
    expect(c.look(map.index(2, 3)).trust).toBe("pale");
    expect(c.look(map.index(0, 0)).trust).toBe("unknown");
    expect(colourOf(c, palettes, c.look(map.index(0, 0)))).toEqual(unknownColour);
  });
  test("is diverging about nought, and noise is not blown up to a pattern", () => {
    const c = colouring("leftRight", dataWith(), map);
    expect([c.low, c.high]).toEqual([-40, 40].map((v) => Math.sign(v) * niceLimit(40, 20)));
    const quiet = colouring("leftRight", dataWith(), mapWith({ ...difference, thickness: field([NaN, 100, 101, NaN], [1, 2, 2, 1], [1, 2, 2, 1]) }));
    expect(quiet.high).toBe(20);
    const nought = colourOf(quiet, palettes, { value: 0, trust: "known" });
    expect(nought).toEqual({ r: 128, g: 128, b: 128 });
  });
});

describe("where to scrape", () => {
  const right = step(
    [
      [0.9, 0.1],
      [2.1, 0.1],
      [2.1, 2],
      [0.9, 2],
    ],
    12,
  );
  test("steps that overlap add up; the rest stays cane", () => {
    const map = mapWith({ thickness });
    const depth = plannedDepth(map, dataWith({ plan: { status: "", sentence: [], needs_rolling_test: false, cane_right_over_left: 0, steps: [right, right] } }));
    expect(depth[map.index(1, 2)]).toBe(24);
    expect(depth[map.index(1, 1)]).toBe(0);
    expect(depth[map.index(0, 0)]).toBeNaN();
  });
  test("a place beyond the last corner is outside", () => {
    expect(inside(right.polygon, 1.5, 1)).toBe(true);
    expect(inside(right.polygon, 2.5, 1)).toBe(false);
    expect(inside(right.polygon, 1.5, -1)).toBe(false);
  });
});

describe("what can be chosen", () => {
  test("only what the page has figures for", () => {
    const names = colouringsOf(dataWith(), mapWith({ thickness }), null);
    expect(names).toEqual(["leftRight", "thickness", "sureness"]);
  });
  test("of two scans first what came off", () => {
    const map = mapWith({ thickness });
    expect(colouringsOf(dataWith(), map, map)[0]).toBe("removed");
  });
});
