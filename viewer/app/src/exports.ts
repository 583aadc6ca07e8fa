// Files of what is on the screen.

export function download(name: string, content: Blob): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(content);
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}

export const lightInks = { left: "#0b5fb0", right: "#b5500a" };
export const darkInks = { left: "#6db3ff", right: "#ffa35c" };
const background = "#ffffff";
const ink = "#1a1a1e";

/// A drawing that stands alone: its own size, font and ink on white paper.
export function standaloneSvg(svg: SVGSVGElement): string {
  const copy = svg.cloneNode(true) as SVGSVGElement;
  const box = svg.viewBox.baseVal;
  const paper = document.createElementNS("http://www.w3.org/2000/svg", "rect");
  paper.setAttribute("x", String(box.x));
  paper.setAttribute("y", String(box.y));
  paper.setAttribute("width", String(box.width));
  paper.setAttribute("height", String(box.height));
  paper.setAttribute("fill", background);
  copy.prepend(paper);
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  copy.setAttribute("color", ink);
  copy.setAttribute("font-family", "system-ui, 'DejaVu Sans', sans-serif");
  const scale = 900 / Math.max(box.width, box.height);
  copy.setAttribute("width", String(Math.round(box.width * scale)));
  copy.setAttribute("height", String(Math.round(box.height * scale)));
  copy.removeAttribute("class");
  // The dark screen's inks are too pale for paper.
  const onPaper = (text: string) => text.replaceAll(darkInks.left, lightInks.left).replaceAll(darkInks.right, lightInks.right);
  return onPaper(new XMLSerializer().serializeToString(copy));
}

export interface Drawing {
  svg: string;
  width: number;
  height: number;
}

/// What is on the screen, standing alone, so wide.
export function drawingOf(svg: SVGSVGElement, width: number): Drawing {
  const box = svg.viewBox.baseVal;
  return { svg: standaloneSvg(svg), width, height: (width * box.height) / box.width };
}

/// A picture as a drawing, where the view itself has no lines.
export function drawingAround(pngAddress: string, width: number, height: number): Drawing {
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}">` +
    `<rect width="${width}" height="${height}" fill="${background}"/><image href="${pngAddress}" width="${width}" height="${height}"/></svg>`;
  return { svg, width, height };
}

function text(words: string): string {
  return words.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}

/// Breaks at spaces: a drawing does not wrap by itself.
export function wrapped(words: string, most: number): string[] {
  const lines: string[] = [];
  for (const word of words.split(/\s+/)) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= most) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

/// A sheet that says by itself what it shows: title, drawings below each other, a line of small print.
export function sheet(title: string, drawings: Drawing[], smallPrint: string): string {
  const margin = 20;
  const width = 2 * margin + Math.max(360, ...drawings.map((d) => d.width));
  let at = margin;
  let body = "";
  const write = (words: string, size: number, weight: number) => {
    for (const one of wrapped(words, (width - 2 * margin) / (0.58 * size))) {
      at += size;
      body += `<text x="${margin}" y="${at}" font-size="${size}" font-weight="${weight}">${text(one)}</text>`;
      at += 0.35 * size;
    }
  };
  write(title, 16, 700);
  for (const d of drawings) {
    at += 8;
    body += `<svg x="${margin}" y="${at}" ` + d.svg.slice("<svg ".length).replace(/ width="[^"]*"/, ` width="${d.width}"`).replace(/ height="[^"]*"/, ` height="${d.height}"`);
    at += d.height;
  }
  write(smallPrint, 12, 400);
  const height = at + margin;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" color="${ink}" fill="${ink}" ` +
    `font-family="system-ui, 'DejaVu Sans', sans-serif"><rect width="${width}" height="${height}" fill="${background}"/>${body}</svg>`
  );
}

async function loaded(address: string): Promise<HTMLImageElement> {
  const image = new Image();
  image.src = address;
  await image.decode();
  return image;
}

function pngOf(canvas: HTMLCanvasElement): Promise<Blob> {
  return new Promise((resolve, reject) => canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new Error("no picture"))), "image/png"));
}

export async function pngFromSvg(svgText: string): Promise<Blob> {
  const image = await loaded("data:image/svg+xml;charset=utf-8," + encodeURIComponent(svgText));
  // Two pixels for each of the sheet's: sharp on paper too.
  const canvas = document.createElement("canvas");
  canvas.width = 2 * image.naturalWidth;
  canvas.height = 2 * image.naturalHeight;
  const context = canvas.getContext("2d");
  if (context) {
    context.fillStyle = background;
    context.fillRect(0, 0, canvas.width, canvas.height);
    context.drawImage(image, 0, 0, canvas.width, canvas.height);
  }
  return pngOf(canvas);
}
