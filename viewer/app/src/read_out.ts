// What is known at the cursor.
import type { Fault, ReedMap, Zone } from "./data";

export interface Reading {
  row: number;
  column: number;
  thickness_um: number;
  u95_um: number;
  difference_um: number;
  u95_difference_um: number;
  zone: Zone | null;
  fault: Fault | null;
}

/// Null beyond the map.
export function readingAt(map: ReedMap, zones: Zone[], x_mm: number, y_mm: number, faults: Fault[] = []): Reading | null {
  const at = map.cellAt(x_mm, y_mm);
  if (!at) return null;
  const cell = map.index(at.row, at.column);
  const value = (name: "thickness" | "u95" | "difference" | "u95_difference" | "zone" | "fault") => map.field(name)[cell] ?? NaN;
  const label = value("zone");
  return {
    ...at,
    thickness_um: value("thickness"),
    u95_um: value("u95"),
    difference_um: value("difference"),
    u95_difference_um: value("u95_difference"),
    zone: label >= 0 ? (zones[label] ?? null) : null,
    fault: faults.length > 0 ? (faults[value("fault")] ?? null) : null,
  };
}

/// Thickness along the strip between two shares of the half width, row by row; `to_mm` ends it.
export function strip(map: ReedMap, from_e: number, to_e: number, to_mm: number): [number, number][] {
  // At fixed shares between the cells' centres: whole cells would enter and leave the strip in jumps.
  const samples = 8;
  const thickness = map.field("thickness");
  const points: [number, number][] = [];
  for (let r = 0; r < map.grid.rows && map.x_mm(r) < to_mm; r++) {
    let sum = 0;
    let count = 0;
    for (let k = 0; k < samples; k++) {
      const e = from_e + ((k + 0.5) / samples) * (to_e - from_e);
      const column = (e * (map.halfWidth_mm[r] ?? 0)) / map.grid.cell_mm + 0.5 * map.grid.columns - 0.5;
      const left = Math.floor(column);
      if (left < 0 || left + 1 >= map.grid.columns) continue;
      const [a, b] = [thickness[map.index(r, left)] ?? NaN, thickness[map.index(r, left + 1)] ?? NaN];
      const value = a + (column - left) * (b - a);
      if (Number.isNaN(value)) continue;
      sum += value;
      count++;
    }
    if (count > 0) points.push([map.x_mm(r), sum / count]);
  }
  return points;
}

/// One row of the map: distance from the centreline against thickness, both sides.
export function section(map: ReedMap, x_mm: number): { left: [number, number][]; right: [number, number][] } {
  const row = Math.min(map.grid.rows - 1, Math.max(0, Math.floor(x_mm / map.grid.cell_mm)));
  const thickness = map.field("thickness");
  const left: [number, number][] = [];
  const right: [number, number][] = [];
  for (let c = map.grid.columns / 2; c < map.grid.columns; c++) {
    const r = thickness[map.index(row, c)] ?? NaN;
    const l = thickness[map.index(row, map.mirrored(c))] ?? NaN;
    if (!Number.isNaN(r)) right.push([map.y_mm(c), r]);
    if (!Number.isNaN(l)) left.push([map.y_mm(c), l]);
  }
  return { left, right };
}

/// As thickness.csv that the command writes.
export function thicknessCsv(map: ReedMap): string {
  const thickness = map.field("thickness");
  const u95 = map.field("u95");
  const lines = ["x_mm,y_mm,thickness_mm,u95_mm"];
  for (let r = 0; r < map.grid.rows; r++) {
    for (let c = 0; c < map.grid.columns; c++) {
      const value = thickness[map.index(r, c)] ?? NaN;
      if (Number.isNaN(value)) continue;
      const u = u95[map.index(r, c)] ?? NaN;
      lines.push([map.x_mm(r).toFixed(3), map.y_mm(c).toFixed(3), (value / 1000).toFixed(5), (u / 1000).toFixed(5)].join(","));
    }
  }
  return lines.join("\n") + "\n";
}
