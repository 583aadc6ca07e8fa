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
  return new XMLSerializer().serializeToString(copy);
}

/// A picture inside a drawing, where the view itself has no lines.
export function svgAround(pngAddress: string, width: number, height: number): string {
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}">` +
    `<rect width="${width}" height="${height}" fill="${background}"/><image href="${pngAddress}" width="${width}" height="${height}"/></svg>`
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

export async function pngFromAddress(address: string): Promise<Blob> {
  const image = await loaded(address);
  const canvas = document.createElement("canvas");
  canvas.width = image.naturalWidth;
  canvas.height = image.naturalHeight;
  const context = canvas.getContext("2d");
  if (context) {
    context.fillStyle = background;
    context.fillRect(0, 0, canvas.width, canvas.height);
    context.drawImage(image, 0, 0);
  }
  return pngOf(canvas);
}

export function pngFromSvg(svgText: string): Promise<Blob> {
  return pngFromAddress("data:image/svg+xml;charset=utf-8," + encodeURIComponent(svgText));
}
