// A band along a closed line on the reed: lines of a graphics card are a hair wide.

export interface Ribbon {
  /// Three a vertex: y, minus x, height; as in the relief.
  positions: Float32Array;
  triangles: Uint32Array;
}

const step_mm = 0.5;

/// Points at most half a millimetre apart along a closed line, so that a band follows the surface.
export function sampled(corners: readonly [number, number][]): [number, number][] {
  return corners.flatMap(([x, y], k): [number, number][] => {
    const [to_x, to_y] = corners[(k + 1) % corners.length] as [number, number];
    const parts = Math.max(1, Math.ceil(Math.hypot(to_x - x, to_y - y) / step_mm));
    return Array.from({ length: parts }, (_, i) => [x + ((to_x - x) * i) / parts, y + ((to_y - y) * i) / parts]);
  });
}

/// `heightAt` gives the surface's height in mm at x from the tip and y from the centreline.
export function ribbonOf(corners: readonly [number, number][], width_mm: number, heightAt: (x_mm: number, y_mm: number) => number): Ribbon {
  const points = sampled(corners);
  const n = points.length;
  const positions = new Float32Array(6 * n);
  const triangles = new Uint32Array(6 * n);
  points.forEach(([x, y], k) => {
    const [before_x, before_y] = points[(k + n - 1) % n] as [number, number];
    const [after_x, after_y] = points[(k + 1) % n] as [number, number];
    const along = Math.hypot(after_x - before_x, after_y - before_y) || 1;
    // Across the band, in the reed's plane.
    const [across_x, across_y] = [-(after_y - before_y) / along, (after_x - before_x) / along];
    const height = heightAt(x, y);
    for (const side of [0, 1]) {
      const shift = (side - 0.5) * width_mm;
      positions.set([y + shift * across_y, -(x + shift * across_x), height], 6 * k + 3 * side);
    }
    const next = (k + 1) % n;
    triangles.set([2 * k, 2 * k + 1, 2 * next, 2 * next, 2 * k + 1, 2 * next + 1], 6 * k);
  });
  return { positions, triangles };
}
