// A reed of a few cells whose values are plain to see; invented.
import { type FieldName, type PageData, ReedMap } from "../../src/data";

export const grid = { cell_mm: 1, rows: 3, columns: 4 };

export function base64(values: readonly number[]): string {
  const bytes = new Uint8Array(Float32Array.from(values).buffer);
  return btoa(String.fromCharCode(...bytes));
}

/// Written as it lies before the player: rows from the tip down, left on the left. Stored column by column.
export function field(...rows: number[][]): string {
  return base64(Array.from({ length: grid.rows * grid.columns }, (_, k) => rows[k % grid.rows]?.[Math.floor(k / grid.rows)] ?? NaN));
}

export const thickness = field([NaN, 100, 110, NaN], [200, 300, 310, 240], [400, 500, 500, 400]);

export function mapWith(fields: Partial<Record<FieldName, string>>): ReedMap {
  return new ReedMap(grid, fields, [2, 2, 2], [], 3);
}

export function dataWith(more: Partial<PageData> = {}): PageData {
  return {
    version: 1,
    kind: "reed",
    title: [],
    headline: [],
    certainty: [],
    grid,
    half_width_mm: [2, 2, 2],
    rim: [],
    length_mm: 3,
    vamp_mm: 3,
    limits: { t: [], e: [] },
    verdict: "",
    zones: [],
    faults: [],
    plan: { status: "", sentence: [], needs_rolling_test: false, cane_right_over_left: 0, steps: [] },
    bars: [],
    imbalance_tolerance: 0.06,
    bending: null,
    cautions: [],
    handedness_checked: true,
    colours: { sequential: "", diverging: "" },
    fields: {},
    ...more,
  };
}
