// The map laid flat, tip up, left on the left; folded, the left half lies over the right one.
import { useSignal } from "@preact/signals";
import { useMemo } from "preact/hooks";
import { addressOf, paint, type Part, wholeMap } from "./colour_image";
import type { ReedMap, Step } from "./data";
import { type Reed, lengthShown, told, word } from "./state";

const margin_mm = 1.6;

function path(points: [number, number][]): string {
  return points.map(([x, y], k) => `${k === 0 ? "M" : "L"}${y.toFixed(3)} ${x.toFixed(3)}`).join("") + "Z";
}

/// Limits of the zones, as lines across and along.
function zoneLines(reed: Reed, map: ReedMap, folded: boolean): string {
  const { t, e } = reed.data.limits;
  let d = "";
  for (const share of t.slice(1)) {
    const x = share * reed.data.vamp_mm;
    const half = map.halfWidthAt(x);
    d += `M${(folded ? 0 : -half).toFixed(2)} ${x.toFixed(2)}L${half.toFixed(2)} ${x.toFixed(2)}`;
  }
  for (const share of e.slice(1, -1)) {
    for (const side of folded ? [1] : [-1, 1]) {
      for (let k = 0; k <= 20; k++) {
        const x = (k / 20) * reed.data.vamp_mm;
        d += `${k === 0 ? "M" : "L"}${(side * share * map.halfWidthAt(x)).toFixed(2)} ${x.toFixed(2)}`;
      }
    }
  }
  return d;
}

const markOf = { within: "ok", outside: "!", "cannot tell": "?" } as const;

function ZoneMeans({ reed, folded }: { reed: Reed; folded: boolean }) {
  const { t, e } = reed.data.limits;
  return (
    <g font-size="0.86" text-anchor="middle" stroke="#fff" stroke-width="0.26" paint-order="stroke" fill="#1a1a1e">
      {reed.data.zones.map((zone, k) => {
        if (zone.difference_um === null) return null;
        const along = Math.floor(k / 3);
        const across = k % 3;
        const x = along === 0 ? 2.5 : 0.5 * reed.data.vamp_mm * ((t[along] ?? 0) + (t[along + 1] ?? 1));
        const share = 0.5 * ((e[across] ?? 0) + (e[across + 1] ?? 1));
        return (folded ? [1] : [-1, 1]).map((side) => (
          <text key={`${k}${side}`} y={x}>
            <tspan x={side * share * reed.map.halfWidthAt(x)}>{lengthShown(side * (zone.difference_um ?? 0), 0, true)}</tspan>
            <tspan x={side * share * reed.map.halfWidthAt(x)} dy="0.95">
              {markOf[zone.verdict]}
            </tspan>
          </text>
        ));
      })}
    </g>
  );
}

export function StepPlaces({ steps, lit, folded }: { steps: Step[]; lit?: number; folded?: boolean }) {
  return (
    <g fill="none" stroke-linejoin="round">
      {steps.map((step, k) => {
        const polygon = folded ? step.polygon.map(([x, y]): [number, number] => [x, Math.abs(y)]) : step.polygon;
        const d = path(polygon);
        const isLit = lit === undefined || lit === k;
        const x = polygon.reduce((sum, p) => sum + p[0], 0) / polygon.length;
        const y = polygon.reduce((sum, p) => sum + p[1], 0) / polygon.length;
        return (
          <g key={k} opacity={isLit ? 1 : 0.35}>
            <path d={d} stroke="#fff" stroke-width="0.5" />
            <path d={d} stroke="#1a1a1e" stroke-width="0.24" fill={lit === k ? "rgb(181 80 10 / 0.75)" : "none"} />
            <circle cx={y} cy={x} r="0.72" fill="#1a1a1e" />
            <text x={y} y={x + 0.38} font-size="1.05" font-weight="700" fill="#fff" text-anchor="middle">
              {k + 1}
            </text>
          </g>
        );
      })}
    </g>
  );
}

function Grid({ from_y, to_y, to_x }: { from_y: number; to_y: number; to_x: number }) {
  const lines = [];
  for (let x = 0; x <= to_x; x++)
    lines.push(<path key={`x${x}`} d={`M${from_y} ${x}H${to_y}`} stroke="#1a1a1e" stroke-width={x % 5 === 0 ? 0.09 : 0.03} />);
  for (let y = Math.ceil(from_y); y <= to_y; y++)
    lines.push(<path key={`y${y}`} d={`M${y} 0V${to_x}`} stroke="#1a1a1e" stroke-width={y % 5 === 0 ? 0.09 : 0.03} />);
  return <g opacity="0.6">{lines}</g>;
}

export function Axes({ from_y, to_y, to_x }: { from_y: number; to_y: number; to_x: number }) {
  const down = [];
  for (let x = 0; x <= to_x; x += 5) down.push(x);
  const over = [];
  for (let y = Math.ceil(from_y / 2) * 2; y <= to_y; y += 2) over.push(y);
  return (
    <g font-size="1" fill="currentColor" stroke="none">
      {down.map((x) => (
        <text key={x} x={from_y - 0.35} y={x + 0.35} text-anchor="end">
          {x}
        </text>
      ))}
      {over.map((y) => (
        <text key={y} x={y} y={to_x + 1.25} text-anchor="middle">
          {y}
        </text>
      ))}
    </g>
  );
}

/// What the picture says, for those who do not see it.
export function description(reed: Reed): string {
  const worst = [...reed.data.zones]
    .filter((z) => z.difference_um !== null && z.verdict === "outside")
    .sort((a, b) => Math.abs(b.difference_um ?? 0) - Math.abs(a.difference_um ?? 0))
    .slice(0, 3)
    .map((z) => `${word(z.across as "rail")}, ${word(z.along as "tip")}: ${lengthShown(z.difference_um ?? 0, 0, true)}`);
  return `${word(reed.colours.value)}. ${told(reed.data.headline)} ${worst.join("; ")}`;
}

function partOf(map: ReedMap, folded: boolean): Part {
  const half = map.grid.columns / 2;
  return folded ? { firstRow: 0, rows: map.grid.rows, firstColumn: half, columns: half } : wholeMap(map);
}

export function FlatMap({ reed, folded }: { reed: Reed; folded: boolean }) {
  const name = reed.colours.value;
  const map = reed.mapShown(name);
  const to_x = reed.longest_mm;
  const widest = Math.max(...map.halfWidth_mm);
  const from_y = folded ? 0 : -widest;
  const part = partOf(map, folded);
  const shown = reed.shown.value;
  const image = useMemo(() => addressOf(paint(map, shown, reed.palettes, part)), [map, shown, folded]);
  const shownBefore = reed.shownBefore.value;
  const wiped = shownBefore !== null && reed.before !== null;
  const partBefore = reed.before ? partOf(reed.before, folded) : part;
  const imageBefore = useMemo(
    () => (shownBefore && reed.before ? addressOf(paint(reed.before, shownBefore, reed.palettes, partBefore)) : ""),
    [shownBefore, folded],
  );
  // What was measured before the tip was clipped began so much farther out.
  const clipped_mm = reed.clipped_mm;
  const shift_mm = map === reed.before ? clipped_mm : 0;
  const dragging = useSignal(false);
  const top = -1 - shift_mm;
  const box = [from_y - margin_mm - (folded ? 0.6 : 0), top, widest - from_y + 2 * margin_mm + (folded ? 0.6 : 0), to_x + 2 - top];
  const toReed = (event: PointerEvent) => {
    const svg = event.currentTarget as SVGSVGElement;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM()?.inverse());
    reed.moveCursor(at.y, folded ? Math.max(0, at.x) : at.x);
  };
  const { x_mm, y_mm } = reed.cursor.value;
  const cursor_y = folded ? Math.abs(y_mm) : y_mm;
  const wipe_y = from_y + (widest - from_y) * reed.wipe.value;
  const picture = (href: string, m: ReedMap, p: Part) => (
    <image
      href={href}
      x={(p.firstColumn - 0.5 * m.grid.columns) * m.grid.cell_mm}
      y={p.firstRow * m.grid.cell_mm}
      width={p.columns * m.grid.cell_mm}
      height={p.rows * m.grid.cell_mm}
      preserveAspectRatio="none"
    />
  );
  return (
    <svg
      class="flat"
      data-view={folded ? "folded" : "flat"}
      viewBox={box.map((v) => v.toFixed(2)).join(" ")}
      role="img"
      aria-label={description(reed)}
      onPointerDown={(e) => {
        dragging.value = true;
        e.currentTarget.setPointerCapture(e.pointerId);
        toReed(e);
      }}
      onPointerMove={(e) => {
        if (dragging.value || e.pointerType === "mouse") toReed(e);
      }}
      onPointerUp={() => (dragging.value = false)}
      onPointerCancel={() => (dragging.value = false)}
    >
      <defs>
        <clipPath id="rim">
          <path d={path(map.rim)} />
        </clipPath>
        <clipPath id="extent">
          <rect x={from_y - (folded ? 0.1 : 1)} y={top} width={widest - from_y + 2} height={to_x - top} />
        </clipPath>
        <clipPath id="was">
          <rect x={-widest - 1} y={top} width={wipe_y + widest + 1} height={to_x - top} />
        </clipPath>
        <clipPath id="is">
          <rect x={wipe_y} y={top} width={widest - wipe_y + 1} height={to_x - top} />
        </clipPath>
      </defs>
      <g clip-path="url(#extent)">
        <g clip-path={wiped ? "url(#is)" : undefined}>
          <g transform={`translate(0 ${-shift_mm})`}>
            <g clip-path="url(#rim)">{picture(image, map, part)}</g>
          </g>
        </g>
        {wiped && reed.before ? (
          <g clip-path="url(#was)">
            <g clip-path="url(#rim)">
              <g transform={`translate(0 ${-clipped_mm})`}>{picture(imageBefore, reed.before, partBefore)}</g>
            </g>
          </g>
        ) : null}
        {reed.showGrid.value ? <Grid from_y={from_y} to_y={widest} to_x={to_x} /> : null}
        {reed.showZones.value ? <path d={zoneLines(reed, reed.map, folded)} stroke="#1a1a1e" stroke-width="0.07" fill="none" clip-path={shift_mm > 0 ? undefined : "url(#rim)"} /> : null}
        <path d={path(map.rim)} fill="none" stroke="currentColor" stroke-width="0.14" transform={`translate(0 ${-shift_mm})`} />
        <path d={`M0 0V${to_x}`} stroke="#1a1a1e" stroke-width="0.06" stroke-dasharray="0.5 0.35" />
        {name === "removed" && reed.data.before ? (
          <g transform={`translate(0 ${-shift_mm})`}>
            <StepPlaces steps={reed.data.before.plan.steps} />
          </g>
        ) : name === "plan" || (name === "leftRight" && !folded) ? (
          <StepPlaces steps={reed.data.plan.steps} folded={folded} />
        ) : null}
        {name === "leftRight" && reed.showZones.value ? <ZoneMeans reed={reed} folded={folded} /> : null}
        {wiped ? <path d={`M${wipe_y} 0V${to_x}`} stroke="#1a1a1e" stroke-width="0.2" /> : null}
        <g stroke="#fff" stroke-width="0.28" fill="none">
          <path d={`M${cursor_y - 1.4} ${x_mm}h1M${cursor_y + 0.4} ${x_mm}h1M${cursor_y} ${x_mm - 1.4}v1M${cursor_y} ${x_mm + 0.4}v1`} />
          <path
            d={`M${cursor_y - 1.4} ${x_mm}h1M${cursor_y + 0.4} ${x_mm}h1M${cursor_y} ${x_mm - 1.4}v1M${cursor_y} ${x_mm + 0.4}v1`}
            stroke="#1a1a1e"
            stroke-width="0.14"
          />
        </g>
      </g>
      {wiped ? (
        <g font-size="1" fill="currentColor">
          <text x={wipe_y - 0.3} y="-0.25" text-anchor="end">
            {word("before")}
          </text>
          <text x={wipe_y + 0.3} y="-0.25">
            {word("after")}
          </text>
        </g>
      ) : null}
      <Axes from_y={from_y} to_y={widest} to_x={to_x} />
    </svg>
  );
}
