import { describe, expect, test } from "vitest";
import { ReedMap } from "../../src/data";
import { movementOf, reliefOf, shadingOf } from "../../src/relief";
import { base64, grid, mapWith, thickness } from "./small_reed";

const map = mapWith({ thickness });

describe("the body", () => {
  const relief = reliefOf(map, 3);
  test("has a vertex a measured cell, above and on the table", () => {
    expect(relief.cells).toHaveLength(10);
    expect(relief.positions).toHaveLength(60);
    const first = Array.from(relief.cells).indexOf(map.index(0, 1));
    expect(relief.positions[3 * first]).toBe(-0.5);
    expect(relief.positions[3 * first + 1]).toBe(-0.5);
    expect(relief.positions[3 * first + 2]).toBeCloseTo(0.1, 6);
    expect(relief.positions[3 * (10 + first) + 2]).toBe(0);
  });
  test("is closed: every edge is walked once each way", () => {
    const walked = new Map<string, number>();
    for (let k = 0; k < relief.triangles.length; k += 3) {
      for (let i = 0; i < 3; i++) {
        const a = relief.triangles[k + i];
        const b = relief.triangles[k + ((i + 1) % 3)];
        walked.set(`${a}-${b}`, (walked.get(`${a}-${b}`) ?? 0) + 1);
      }
    }
    for (const [edge, times] of walked) {
      expect(times, edge).toBe(1);
      expect(walked.get(edge.split("-").reverse().join("-")), edge).toBe(1);
    }
  });
  test("its upper face looks up", () => {
    const [a, b, c] = Array.from(relief.triangles.slice(0, 3)).map((v) => Array.from(relief.positions.slice(3 * v, 3 * v + 3))) as [number[], number[], number[]];
    const u = [0, 1].map((i) => (b[i] ?? 0) - (a[i] ?? 0)) as [number, number];
    const v = [0, 1].map((i) => (c[i] ?? 0) - (a[i] ?? 0)) as [number, number];
    expect(u[0] * v[1] - u[1] * v[0]).toBeGreaterThan(0);
  });
  test("ends where the view ends", () => {
    expect(reliefOf(map, 2).cells).toHaveLength(6);
  });
  test("has no holes inside the reed's outline: what was not seen stands as high as its neighbour inwards", () => {
    const rim: [number, number][] = [[0, -2], [0, 2], [3, 2], [3, -2]];
    const whole = new ReedMap(grid, { thickness }, [2, 2, 2], rim, 3);
    const filled = reliefOf(whole, 3);
    expect(filled.cells).toHaveLength(12);
    const corner = Array.from(filled.cells).indexOf(whole.index(0, 3));
    expect(filled.positions[3 * corner + 2]).toBeCloseTo(0.11, 6);
    expect(whole.field("thickness")[whole.index(0, 3)]).toBeNaN();
  });
  test("ends on the outline and keeps what lies within", () => {
    const fine = { cell_mm: 0.1, rows: 80, columns: 80 };
    const rim: [number, number][] = Array.from({ length: 181 }, (_, k) => [3.5 - 3.4 * Math.cos((k * Math.PI) / 180), 3.4 * Math.sin((k * Math.PI) / 180)]);
    const round: [number, number][] = [...rim, ...rim.slice(1, -1).reverse().map(([x, y]): [number, number] => [x, -y])];
    const body = reliefOf(new ReedMap(fine, {}, [], round, 8), 5);
    expect(body.cells.length).toBe(0);
    const level = base64(Array.from({ length: 6400 }, (_, k) => (Math.hypot((k % 80) * 0.1 + 0.05 - 3.5, (Math.floor(k / 80) - 39.5) * 0.1) < 3.4 ? 200 : NaN)));
    const disc = reliefOf(new ReedMap(fine, { thickness: level }, [], round, 8), 5);
    const walked = new Map<string, number>();
    for (let k = 0; k < disc.upper; k += 3) {
      for (let i = 0; i < 3; i++) walked.set(`${disc.triangles[k + i]}-${disc.triangles[k + ((i + 1) % 3)]}`, k);
    }
    const free = new Set([...walked.keys()].filter((edge) => !walked.has(edge.split("-").reverse().join("-"))).map((edge) => Number(edge.split("-")[0])));
    let onOutline = 0;
    disc.cells.forEach((cell, k) => {
      const y = disc.positions[3 * k] ?? NaN, x = -(disc.positions[3 * k + 1] ?? NaN);
      const radius = Math.hypot(x - 3.5, y);
      expect(radius).toBeLessThan(3.401);
      if (free.has(k) && x < 4.8) {
        expect(Math.abs(radius - 3.4)).toBeLessThan(0.001);
        onOutline++;
      } else if (!free.has(k)) {
        expect(x).toBeCloseTo((cell % 80) * 0.1 + 0.05, 5);
      }
    });
    expect(onOutline).toBeGreaterThan(80);
  });
  test("every vertex knows its place on the map's image, tip up", () => {
    const k = Array.from(relief.cells).indexOf(map.index(1, 0));
    expect([...relief.places.slice(2 * k, 2 * k + 2)]).toEqual([0.125, 0.5]);
  });
  test("the upper face's triangles come first", () => {
    expect(relief.upper).toBe(4 * 6);
    expect(Math.max(...relief.triangles.slice(0, relief.upper))).toBeLessThan(10);
    for (let k = relief.upper; k < relief.triangles.length; k += 3) expect(Math.max(...relief.triangles.slice(k, k + 3))).toBeGreaterThanOrEqual(10);
  });
});

test("shading never darkens a colour by more than three tenths", () => {
  const upper = shadingOf(reliefOf(map, 3), map, 20).slice(0, 30);
  expect(Math.min(...upper)).toBeGreaterThanOrEqual(0.7);
  expect(Math.max(...upper)).toBeLessThanOrEqual(1);
});

test("a shape's movement is read where the vertex lies", () => {
  const relief = reliefOf(map, 3);
  // Moves by its distance from the tip: 0.5, 1.5, 2.5 mm in every column.
  const values = base64([0.5, 1.5, 2.5, 0.5, 1.5, 2.5, 0.5, 1.5, 2.5, 0.5, 1.5, 2.5]);
  const shape = { rows: 3, columns: 4, values };
  const moved = movementOf(relief, map, shape, {
    lip_force_n: null,
    step_mm: 1,
    first_y_mm: -1.5,
    bent_mm: shape,
    modes: [],
    closing: [],
    compliance: [],
  });
  relief.cells.forEach((cell, k) => expect(moved[k]).toBeCloseTo(map.x_mm(cell % 3), 2));
});
