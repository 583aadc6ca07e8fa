// What the command writes for the page; scanproc/report/page_data.cpp is the other side of this contract.

import type { Message } from "./speech";

export interface Grid {
  cell_mm: number;
  rows: number;
  columns: number;
}

export type FieldName =
  | "fault"
  | "thickness"
  | "u95"
  | "difference"
  | "u95_difference"
  | "deviation"
  | "zone"
  | "stiffness_percent"
  | "balance_percent"
  | "removed"
  | "u95_removed";

export interface Zone {
  along: string;
  across: string;
  difference_um: number | null;
  u95_um: number | null;
  tolerance_um: number;
  verdict: "within" | "outside" | "cannot tell";
}

/// A place where the sides differ, by cells: what headline and plan name.
export interface Fault {
  place: Message;
  side: "left" | "right";
  across: "centre" | "flank" | "rail";
  in_heart: boolean;
  from_mm: number;
  to_mm: number;
  difference_um: number;
  u95_um: number;
  tolerance_um: number;
  /// The named side is the thinner one.
  thin: boolean;
}

export interface Step {
  where: Message;
  stop: Message;
  side: "left" | "right";
  across: "centre" | "flank" | "rail";
  aim: "balance" | "target" | "softer";
  /// The map finds the cane even here.
  for_bending: boolean;
  /// Strokes between two tests.
  pause: number;
  depth_um: number;
  strokes: number;
  from_mm: number;
  to_mm: number;
  polygon: [number, number][];
}

export interface Plan {
  status: string;
  sentence: Message[];
  needs_rolling_test: boolean;
  cane_right_over_left: number;
  steps: Step[];
}

export interface Shape {
  rows: number;
  columns: number;
  values: string;
}

export interface Bar {
  name: Message;
  imbalance: boolean;
  before: number | null;
  after: number | null;
}

/// x or pressure, then left, centre, right.
export type ThreeCurves = [number, number | null, number | null, number | null][];

export interface Bending {
  lip_force_n: number | null;
  step_mm: number;
  first_y_mm: number;
  bent_mm: Shape;
  modes: { hz: number | null; kind: string; shape: Shape }[];
  closing: ThreeCurves;
  compliance: ThreeCurves;
}

type Fields = Partial<Record<FieldName, string>>;

export interface PageData {
  version: number;
  kind: "reed" | "comparison";
  title: Message[];
  headline: Message[];
  certainty: Message[];
  grid: Grid;
  half_width_mm: number[];
  rim: [number, number][];
  length_mm: number;
  vamp_mm: number;
  limits: { t: number[]; e: number[] };
  verdict: string;
  zones: Zone[];
  faults: Fault[];
  plan: Plan;
  bars: Bar[];
  imbalance_tolerance: number;
  bending: Bending | null;
  cautions: Message[];
  handedness_checked: boolean;
  colours: { sequential: string; diverging: string };
  fields: Fields;
  target?: { title: Message[]; chosen_by_user: boolean; centre: [number, number, number][]; rail: [number, number, number][] };
  before?: { grid: Grid; half_width_mm: number[]; rim: [number, number][]; length_mm: number; plan: Plan; fields: Fields };
  clipped_mm?: number;
  left_right_only?: boolean;
  template_pdf?: string;
}

export function bytesOf(base64: string): Uint8Array {
  const text = atob(base64);
  const bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
  return bytes;
}

/// Little-endian floats.
export function floatsOf(base64: string): Float32Array {
  return new Float32Array(bytesOf(base64).buffer);
}

/// One map: its grid and its fields, decoded when first asked for.
export class ReedMap {
  private readonly decoded = new Map<FieldName, Float32Array>();
  constructor(
    readonly grid: Grid,
    private readonly fields: Fields,
    readonly halfWidth_mm: number[],
    readonly rim: [number, number][],
    readonly length_mm: number,
  ) {}

  has(name: FieldName): boolean {
    return this.fields[name] !== undefined;
  }
  field(name: FieldName): Float32Array {
    let values = this.decoded.get(name);
    if (!values) {
      const text = this.fields[name];
      values = text === undefined ? new Float32Array(this.grid.rows * this.grid.columns).fill(NaN) : floatsOf(text);
      this.decoded.set(name, values);
    }
    return values;
  }
  x_mm(row: number): number {
    return (row + 0.5) * this.grid.cell_mm;
  }
  y_mm(column: number): number {
    return (column + 0.5 - 0.5 * this.grid.columns) * this.grid.cell_mm;
  }
  index(row: number, column: number): number {
    return column * this.grid.rows + row;
  }
  mirrored(column: number): number {
    return this.grid.columns - 1 - column;
  }
  /// The cell that holds the place, or null beyond the map.
  cellAt(x_mm: number, y_mm: number): { row: number; column: number } | null {
    const row = Math.floor(x_mm / this.grid.cell_mm);
    const column = Math.floor(y_mm / this.grid.cell_mm + 0.5 * this.grid.columns);
    if (row < 0 || row >= this.grid.rows || column < 0 || column >= this.grid.columns) return null;
    return { row, column };
  }
  halfWidthAt(x_mm: number): number {
    const row = Math.min(this.grid.rows - 1, Math.max(0, Math.floor(x_mm / this.grid.cell_mm)));
    return this.halfWidth_mm[row] ?? 0;
  }
}

export function mapOf(data: PageData): ReedMap {
  return new ReedMap(data.grid, data.fields, data.half_width_mm, data.rim, data.length_mm);
}
export function mapBefore(data: PageData): ReedMap | null {
  const b = data.before;
  return b ? new ReedMap(b.grid, b.fields, b.half_width_mm, b.rim, b.length_mm) : null;
}
