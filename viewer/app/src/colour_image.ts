// A map as an image: one square of pixels a cell, marks that read without colour.
import { type Colouring, type Palettes, colourOf, unknownColour } from "./colourings";
import type { ReedMap } from "./data";

const pixelsPerCell = 6;

export interface Part {
  firstRow: number;
  rows: number;
  firstColumn: number;
  columns: number;
}

export function wholeMap(map: ReedMap): Part {
  return { firstRow: 0, rows: map.grid.rows, firstColumn: 0, columns: map.grid.columns };
}

/// Unknown cells are striped; where less is told by colour alone, a dot tells it too.
export function paint(map: ReedMap, colours: Colouring, palettes: Palettes, part: Part): ImageData {
  const n = pixelsPerCell;
  const image = new ImageData(part.columns * n, part.rows * n);
  const width = image.width;
  for (let i = 0; i < part.rows; i++) {
    for (let j = 0; j < part.columns; j++) {
      const row = part.firstRow + i;
      const column = part.firstColumn + j;
      const seen = colours.look(map.index(row, column));
      const colour = colourOf(colours, palettes, seen);
      const dotted =
        colours.diverging && seen.trust === "known" && seen.value < 0.2 * colours.low && row % 2 === 0 && (column + row / 2) % 2 === 0;
      for (let y = 0; y < n; y++) {
        for (let x = 0; x < n; x++) {
          const px = j * n + x;
          const py = i * n + y;
          let { r, g, b } = colour;
          if (seen.trust === "unknown" && (px + py) % 8 < 3) r = g = b = 150;
          if (dotted && x >= 2 && x < 4 && y >= 2 && y < 4) r = g = b = 26;
          const k = 4 * (py * width + px);
          image.data[k] = r;
          image.data[k + 1] = g;
          image.data[k + 2] = b;
          image.data[k + 3] = 255;
        }
      }
    }
  }
  return image;
}

export function canvasOf(image: ImageData): HTMLCanvasElement {
  const canvas = document.createElement("canvas");
  canvas.width = image.width;
  canvas.height = image.height;
  canvas.getContext("2d")?.putImageData(image, 0, 0);
  return canvas;
}
/// Before left of the line, after right of it: `before` began `clipped_mm` farther out. The line stands at a share of the width.
export function wiped(
  after: { canvas: HTMLCanvasElement; map: ReedMap },
  before: { canvas: HTMLCanvasElement; map: ReedMap },
  share: number,
  clipped_mm: number,
): HTMLCanvasElement {
  const canvas = document.createElement("canvas");
  canvas.width = after.canvas.width;
  canvas.height = after.canvas.height;
  const context = canvas.getContext("2d");
  if (!context) return after.canvas;
  context.drawImage(after.canvas, 0, 0);
  const px_per_mm = pixelsPerCell / after.map.grid.cell_mm;
  const widest_mm = Math.max(...after.map.halfWidth_mm);
  const line_px = 0.5 * canvas.width + (2 * share - 1) * widest_mm * px_per_mm;
  const { rows, columns, cell_mm } = before.map.grid;
  context.save();
  context.beginPath();
  context.rect(0, 0, line_px, canvas.height);
  context.clip();
  context.drawImage(
    before.canvas,
    0.5 * canvas.width - 0.5 * columns * cell_mm * px_per_mm,
    -clipped_mm * px_per_mm,
    columns * cell_mm * px_per_mm,
    rows * cell_mm * px_per_mm,
  );
  context.restore();
  context.fillStyle = "#1a1a1e";
  context.fillRect(line_px - 2, 0, 4, canvas.height);
  return canvas;
}

export function addressOf(image: ImageData): string {
  return canvasOf(image).toDataURL("image/png");
}

export const unknownCss = `rgb(${unknownColour.r} ${unknownColour.g} ${unknownColour.b})`;
