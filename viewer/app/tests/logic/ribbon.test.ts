import { describe, expect, test } from "vitest";
import { ribbonOf, sampled } from "../../src/ribbon";

const square: [number, number][] = [[10, 1], [14, 1], [14, 3], [10, 3]];

describe("a band on the surface", () => {
  test("goes round the whole line in steps of half a millimetre", () => {
    const points = sampled(square);
    expect(points).toHaveLength(2 * 8 + 2 * 4);
    for (const corner of square) expect(points).toContainEqual(corner);
  });
  test("is as wide as asked, half on either side, and at the surface's height", () => {
    const { positions, triangles } = ribbonOf(square, 0.4, (x, y) => 100 * x + y);
    const corner = (k: number) => [...positions.slice(3 * k, 3 * k + 3)];
    // The second point lies on the edge at y = 1: across is y.
    const [left = [], right = []] = [corner(2), corner(3)];
    expect(left[0]! + right[0]!).toBeCloseTo(2, 5);
    expect(Math.abs(left[0]! - right[0]!)).toBeCloseTo(0.4, 5);
    expect(left[1]).toBeCloseTo(-10.5, 5);
    expect(left[2]).toBeCloseTo(1051, 3);
    // Closed: the last triangles end at the first two vertices.
    expect([...triangles.slice(-6)]).toEqual(expect.arrayContaining([0, 1]));
    expect(Math.max(...triangles)).toBe(positions.length / 3 - 1);
  });
});
