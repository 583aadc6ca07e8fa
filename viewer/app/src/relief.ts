// The reed as a body that can be drawn: vertices at the cells' middles, walls down to the table, shading baked in.
import { inside } from "./colourings";
import { type Bending, type ReedMap, type Shape, floatsOf } from "./data";

export interface Relief {
  /// Three a vertex: y, x from the tip downwards, height; millimetres at height times 1.
  positions: Float32Array;
  /// Two a vertex: where it lies on the map's image, from its lower left corner.
  places: Float32Array;
  /// Those of the upper face come first, as many as `upper` says.
  triangles: Uint32Array;
  upper: number;
  /// Vertices of the upper face come first, each the cell `cells[k]`; then as many on the table below them.
  cells: Uint32Array;
}

/// The thickness, and where the scan saw nothing, that of the nearest seen cell towards centreline and butt.
function heightsWithin(map: ReedMap): Float32Array {
  const { rows, columns } = map.grid;
  const heights = map.field("thickness").slice();
  const within = (r: number, c: number) => inside(map.rim, map.x_mm(r), map.y_mm(c));
  for (const half of [0, 1]) {
    for (let k = 0; k < columns / 2; k++) {
      const c = half === 0 ? columns / 2 - 1 - k : columns / 2 + k;
      const inwards = k === 0 ? null : half === 0 ? c + 1 : c - 1;
      for (let r = rows - 1; r >= 0; r--) {
        const cell = map.index(r, c);
        if (!Number.isNaN(heights[cell]) || !within(r, c)) continue;
        const beside = inwards === null ? NaN : (heights[map.index(r, inwards)] ?? NaN);
        heights[cell] = Number.isNaN(beside) && r + 1 < rows ? (heights[map.index(r + 1, c)] ?? NaN) : beside;
      }
    }
  }
  return heights;
}

type Place = [x_mm: number, y_mm: number];

function nearestOn(rim: readonly Place[], x: number, y: number): { place: Place; distance_mm: number } {
  let best: { place: Place; distance_mm: number } = { place: [x, y], distance_mm: Infinity };
  rim.forEach(([ax, ay], k) => {
    const [bx, by] = rim[(k + 1) % rim.length] ?? [ax, ay];
    const length2 = (bx - ax) ** 2 + (by - ay) ** 2;
    const t = length2 > 0 ? Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length2)) : 0;
    const place: Place = [ax + t * (bx - ax), ay + t * (by - ay)];
    const distance_mm = Math.hypot(x - place[0], y - place[1]);
    if (distance_mm < best.distance_mm) best = { place, distance_mm };
  });
  return best;
}

/// One vertex a cell of the reed up to `to_mm`, seen or not: the map's image tells which. A square where four neighbours are cells of it.
/// Where the body ends with the reed it ends on the outline, not in steps of cells.
export function reliefOf(map: ReedMap, to_mm: number): Relief {
  const { rows, columns } = map.grid;
  const heights = heightsWithin(map);
  const vertexOf = new Int32Array(rows * columns).fill(-1);
  const cells: number[] = [];
  for (let c = 0; c < columns; c++) {
    for (let r = 0; r < rows && map.x_mm(r) < to_mm; r++) {
      const cell = map.index(r, c);
      if (Number.isNaN(heights[cell])) continue;
      vertexOf[cell] = cells.length;
      cells.push(cell);
    }
  }
  const count = cells.length;
  const positions = new Float32Array(6 * count);
  const places = new Float32Array(4 * count);
  cells.forEach((cell, k) => {
    const r = cell % rows;
    const c = Math.floor(cell / rows);
    for (const base of [3 * k, 3 * (count + k)]) {
      positions[base] = map.y_mm(c);
      positions[base + 1] = -map.x_mm(r);
    }
    positions[3 * k + 2] = (heights[cell] ?? 0) / 1000;
    for (const base of [2 * k, 2 * (count + k)]) {
      places[base] = (c + 0.5) / columns;
      places[base + 1] = 1 - (r + 0.5) / rows;
    }
  });
  const triangles: number[] = [];
  const below: number[] = [];
  // Every side of a square, with its direction: those that no neighbour walks back are the rim.
  const rim = new Map<number, [number, number]>();
  const side = (a: number, b: number) => {
    const back = b * count + a;
    if (!rim.delete(back)) rim.set(a * count + b, [a, b]);
  };
  for (let c = 0; c + 1 < columns; c++) {
    for (let r = 0; r + 1 < rows; r++) {
      const a = vertexOf[map.index(r, c)] ?? -1;
      const b = vertexOf[map.index(r + 1, c)] ?? -1;
      const d = vertexOf[map.index(r + 1, c + 1)] ?? -1;
      const e = vertexOf[map.index(r, c + 1)] ?? -1;
      if (a < 0 || b < 0 || d < 0 || e < 0) continue;
      triangles.push(a, b, d, a, d, e);
      below.push(count + a, count + d, count + b, count + a, count + e, count + d);
      side(a, b), side(b, d), side(d, e), side(e, a);
    }
  }
  const farthest_mm = 1.5 * map.grid.cell_mm;
  for (const [a, b] of rim.values()) {
    below.push(a, count + a, count + b, a, count + b, b);
    const { place, distance_mm } = nearestOn(map.rim, -(positions[3 * a + 1] ?? 0), positions[3 * a] ?? 0);
    if (distance_mm > farthest_mm || place[0] > to_mm) continue;
    for (const base of [3 * a, 3 * (count + a)]) {
      positions[base] = place[1];
      positions[base + 1] = -place[0];
    }
  }
  return { positions, places, triangles: Uint32Array.from([...triangles, ...below]), upper: triangles.length, cells: Uint32Array.from(cells) };
}

/// Light from above left on every vertex, 1 in full, so that turning costs nothing; walls and table are of plain cane.
export function shadingOf(relief: Relief, map: ReedMap, exaggeration: number): Float32Array {
  const count = relief.cells.length;
  const thickness = map.field("thickness");
  const out = new Float32Array(6 * count);
  const step = 2 * map.grid.cell_mm * 1000;
  for (let k = 0; k < count; k++) {
    const cell = relief.cells[k] ?? 0;
    const here = thickness[cell] ?? NaN;
    const slope = (before: number, after: number) => {
      const a = thickness[before] ?? NaN;
      const b = thickness[after] ?? NaN;
      if (!Number.isNaN(a) && !Number.isNaN(b)) return ((b - a) / step) * exaggeration;
      const oneSided = (2 * (Number.isNaN(b) ? here - a : b - here) * exaggeration) / step;
      return Number.isNaN(oneSided) ? 0 : oneSided;
    };
    const row = cell % map.grid.rows;
    const along = slope(row > 0 ? cell - 1 : -1, row + 1 < map.grid.rows ? cell + 1 : -1);
    const across = slope(cell - map.grid.rows, cell + map.grid.rows);
    const length = Math.hypot(along, across, 1);
    // Never so dark that a colour could be taken for another.
    const light = 0.72 + 0.28 * Math.max(0, (0.45 * across - 0.45 * along + 0.77) / length);
    for (let i = 0; i < 3; i++) out[3 * k + i] = light;
    for (let i = 0; i < 3; i++) out[3 * (count + k) + i] = [0.62, 0.58, 0.5][i] ?? 0.5;
  }
  return out;
}

/// How far each vertex of the upper face moves for a shape's unit; nearest known beside the rim.
export function movementOf(relief: Relief, map: ReedMap, shape: Shape, bending: Bending): Float32Array {
  const values = floatsOf(shape.values);
  const moved = new Float32Array(relief.cells.length);
  relief.cells.forEach((cell, k) => {
    const x = map.x_mm(cell % map.grid.rows) / bending.step_mm - 0.5;
    const y = (map.y_mm(Math.floor(cell / map.grid.rows)) - bending.first_y_mm) / bending.step_mm;
    const row = Math.min(shape.rows - 2, Math.max(0, Math.floor(x)));
    const column = Math.min(shape.columns - 2, Math.max(0, Math.floor(y)));
    let sum = 0;
    let weight = 0;
    for (const i of [0, 1]) {
      for (const j of [0, 1]) {
        const value = values[(column + j) * shape.rows + row + i] ?? NaN;
        const a = Math.min(1, Math.max(0, x - row));
        const b = Math.min(1, Math.max(0, y - column));
        const w = (i === 0 ? 1 - a : a) * (j === 0 ? 1 - b : b) + 1e-3;
        if (Number.isNaN(value)) continue;
        sum += w * value;
        weight += w;
      }
    }
    moved[k] = weight > 0 ? sum / weight : 0;
  });
  return moved;
}
