// What the colours of a view can show, and what is known at a cell.
import type { PageData, ReedMap } from "./data";

export type ColouringName =
  | "thickness"
  | "target"
  | "leftRight"
  | "sureness"
  | "stiffness"
  | "balance"
  | "plan"
  | "removed"
  | "beforeAfter";

export interface Colour {
  r: number;
  g: number;
  b: number;
}

/// How far a cell can be believed: 'pale' where its own value says nothing beyond its uncertainty.
export type Trust = "known" | "pale" | "unknown";

export interface CellLook {
  value: number;
  trust: Trust;
}

export interface Colouring {
  name: ColouringName;
  diverging: boolean;
  /// Shown values in micrometres, else per cent.
  unit: "um" | "percent";
  low: number;
  high: number;
  look(cell: number): CellLook;
}

/// Never a colour of the scales.
export const unknownColour: Colour = { r: 204, g: 204, b: 204 };
export const caneColour: Colour = { r: 236, g: 226, b: 204 };
const pale = 0.4;
const niceLimits = [10, 20, 30, 40, 50, 75, 100, 150, 200, 300, 500, 1000];

export function niceLimit(largest: number, least: number): number {
  for (const limit of niceLimits) if (limit >= least && largest <= limit) return limit;
  return Math.ceil(largest / 1000) * 1000;
}

/// The share-th of the known values by size of magnitude.
export function quantile(values: Float32Array, share: number): number {
  const known = values.filter((v) => !Number.isNaN(v)).map(Math.abs).sort();
  return known.length === 0 ? 0 : (known[Math.min(known.length - 1, Math.floor(share * known.length))] ?? 0);
}

/// At least least, so that noise is not blown up to a pattern.
function divergingOf(
  name: ColouringName,
  unit: "um" | "percent",
  values: Float32Array,
  u95: Float32Array | null,
  least: number,
): Colouring {
  const top = quantile(values, 0.98);
  const limit = unit === "um" ? niceLimit(top, least) : Math.max(top, 1e-6);
  return {
    name,
    diverging: true,
    unit,
    low: -limit,
    high: limit,
    look(cell) {
      const value = values[cell] ?? NaN;
      if (Number.isNaN(value)) return { value, trust: "unknown" };
      if (!u95) return { value, trust: "known" };
      return { value, trust: Math.abs(value) > (u95[cell] ?? NaN) ? "known" : "pale" };
    },
  };
}

function sequentialOf(name: ColouringName, values: Float32Array, high: number): Colouring {
  return {
    name,
    diverging: false,
    unit: "um",
    low: 0,
    high,
    look(cell) {
      const value = values[cell] ?? NaN;
      return { value, trust: Number.isNaN(value) ? "unknown" : "known" };
    },
  };
}

export function inside(polygon: [number, number][], x: number, y: number): boolean {
  let within = false;
  for (let i = 0, j = polygon.length - 1; i < polygon.length; j = i++) {
    const [xi, yi] = polygon[i] as [number, number];
    const [xj, yj] = polygon[j] as [number, number];
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) within = !within;
  }
  return within;
}

/// Depth to take off at every measured cell.
export function plannedDepth(map: ReedMap, data: PageData): Float32Array {
  const thickness = map.field("thickness");
  const depth = new Float32Array(thickness.length);
  for (let c = 0; c < map.grid.columns; c++) {
    for (let r = 0; r < map.grid.rows; r++) {
      const cell = map.index(r, c);
      if (Number.isNaN(thickness[cell])) {
        depth[cell] = NaN;
        continue;
      }
      for (const step of data.plan.steps)
        if (inside(step.polygon, map.x_mm(r), map.y_mm(c))) depth[cell] = (depth[cell] ?? 0) + step.depth_um;
    }
  }
  return depth;
}

/// More than its partner on the other side, cell by cell.
export function excess(map: ReedMap): Float32Array {
  const thickness = map.field("thickness");
  const over = new Float32Array(thickness.length);
  for (let c = 0; c < map.grid.columns; c++) {
    for (let r = 0; r < map.grid.rows; r++) {
      over[map.index(r, c)] =
        (thickness[map.index(r, c)] ?? NaN) - (thickness[map.index(r, map.mirrored(c))] ?? NaN);
    }
  }
  return over;
}

/// Thickness up to the vamp's end sets the scale: the stock would squeeze all that matters into the dark end.
function vampTop(map: ReedMap, vamp_mm: number): number {
  const values = map.field("thickness");
  let top = 0;
  for (let c = 0; c < map.grid.columns; c++) {
    for (let r = 0; r < map.grid.rows && map.x_mm(r) < vamp_mm; r++) {
      const v = values[map.index(r, c)] ?? NaN;
      if (v > top) top = v;
    }
  }
  return Math.max(100, Math.ceil(top / 100) * 100);
}

export function colouringsOf(data: PageData, map: ReedMap, before: ReedMap | null): ColouringName[] {
  const names: ColouringName[] = before ? ["removed", "beforeAfter", "leftRight", "thickness"] : ["leftRight", "thickness"];
  if (map.has("deviation")) names.push("target");
  names.push("sureness");
  if (map.has("stiffness_percent")) names.push("stiffness");
  if (map.has("balance_percent")) names.push("balance");
  if (data.plan.steps.length > 0) names.push("plan");
  return names;
}

/// For the scan before, give its map as `map`: scales then come from `scaleOf`.
export function colouring(name: ColouringName, data: PageData, map: ReedMap): Colouring {
  switch (name) {
    case "leftRight":
      return divergingOf(name, "um", excess(map), map.field("u95_difference"), 20);
    case "beforeAfter":
      return divergingOf(name, "um", excess(map), map.field("u95_difference"), 20);
    case "target":
      return divergingOf(name, "um", map.field("deviation"), map.field("u95"), 20);
    case "removed":
      return divergingOf(name, "um", map.field("removed"), map.field("u95_removed"), 20);
    case "stiffness":
      return divergingOf(name, "percent", map.field("stiffness_percent"), null, 0);
    case "balance":
      return divergingOf(name, "percent", map.field("balance_percent"), null, 0);
    case "sureness":
      return sequentialOf(name, map.field("u95"), niceLimit(quantile(map.field("u95"), 0.95), 10));
    case "plan": {
      const depth = plannedDepth(map, data);
      return sequentialOf(name, depth, niceLimit(quantile(depth, 1), 10));
    }
    case "thickness":
      return sequentialOf(name, map.field("thickness"), vampTop(map, data.vamp_mm));
  }
}

export class Palette {
  private readonly bytes: Uint8Array;
  constructor(hex: string) {
    this.bytes = new Uint8Array(hex.length / 2);
    for (let i = 0; i < this.bytes.length; i++) this.bytes[i] = parseInt(hex.slice(2 * i, 2 * i + 2), 16);
  }
  /// t from 0 to 1.
  at(t: number): Colour {
    const k = 3 * Math.round(Math.min(1, Math.max(0, t)) * (this.bytes.length / 3 - 1));
    return { r: this.bytes[k] ?? 0, g: this.bytes[k + 1] ?? 0, b: this.bytes[k + 2] ?? 0 };
  }
}

export interface Palettes {
  sequential: Palette;
  diverging: Palette;
}

export function colourOf(c: Colouring, palettes: Palettes, look: CellLook): Colour {
  if (look.trust === "unknown") return unknownColour;
  if (c.name === "plan" && look.value === 0) return caneColour;
  if (!c.diverging) return palettes.sequential.at((look.value - c.low) / (c.high - c.low));
  const share = (look.value / c.high) * (look.trust === "pale" ? pale : 1);
  return palettes.diverging.at(0.5 + 0.5 * Math.min(1, Math.max(-1, share)));
}
