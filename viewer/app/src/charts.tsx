// Curves: sections, profiles, closing, compliance, and bars of bending. Scales and lines by D3.
import { signal } from "@preact/signals";
import { scaleLinear, scaleLog } from "d3-scale";
import { area, line } from "d3-shape";
import type { Bar, ReedMap, ThreeCurves } from "./data";
import { darkInks, download, drawingOf, lightInks, sheet } from "./exports";
import { inUnit, unitName } from "./lengths";
import { section, strip } from "./read_out";
import { type Reed, dark, numeral, told, unit, word } from "./state";

type Point = [number, number];

const edge = { left: 58, right: 12, top: 12, bottom: 42 };
/// On a phone a drawing of this width keeps its letters readable.
const narrow = matchMedia("(max-width: 600px)");
const isNarrow = signal(narrow.matches);
narrow.addEventListener("change", (e) => (isNarrow.value = e.matches));
function size(): { width: number; height: number } {
  return isNarrow.value ? { width: 380, height: 240 } : { width: 640, height: 250 };
}

export interface Curve {
  label: string;
  points: Point[];
  side: "centre" | "left" | "right";
  /// As the scan before showed it.
  before?: boolean;
}

/// Told apart by dashes as well as by colour.
const dashes = { centre: undefined, left: "8 4", right: undefined } as const;
const dashesBefore = "2 4";
function dashOf(curve: Pick<Curve, "side" | "before">): string | undefined {
  return curve.before ? dashesBefore : dashes[curve.side];
}
function inkOf(side: Curve["side"]): string {
  const inks = dark.value ? darkInks : lightInks;
  return side === "left" || side === "right" ? inks[side] : "currentColor";
}

/// Many noughts have no room beside the axis.
function tickWords(value: number): string {
  const exponent = Math.log10(value);
  if (value >= 0.001 || !Number.isInteger(exponent)) return numeral(String(Number(value.toPrecision(6))));
  return `10⁻${[...String(-exponent)].map((digit) => "⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(digit)]).join("")}`;
}

/// Saves the drawings of a figure under its title; the key's samples come as they stand.
function SaveChart({ name, title }: { name: string; title: string }) {
  const save = (event: MouseEvent) => {
    const figure = (event.currentTarget as Element).closest("figure");
    const chart = figure?.querySelector<SVGSVGElement>(":scope > svg");
    if (!figure || !chart) return;
    const keys = [...figure.querySelectorAll<HTMLLIElement>(".key li")].map((li) => (li.textContent ?? "").trim() + dashWords(li));
    const words = keys.length > 0 ? keys.join("; ") : (figure.querySelector("p")?.textContent ?? "");
    download(`reed-${name}.svg`, new Blob([sheet(title, [drawingOf(chart, 640)], words)], { type: "image/svg+xml" }));
  };
  return (
    <button class="save-chart" aria-label={`SVG: ${title}`} onClick={save}>
      SVG
    </button>
  );
}
function dashWords(li: HTMLLIElement): string {
  const path = li.querySelector("path");
  if (!path) return ` (${word("grey")})`;
  const dash = path.getAttribute("stroke-dasharray");
  return dash === dashes.left ? ` (${word("dashed")})` : dash === dashesBefore ? ` (${word("dotted")})` : "";
}

export function Chart(props: {
  name: string;
  title: string;
  xTitle: string;
  yTitle: string;
  curves: Curve[];
  bands?: [number, number, number][][];
  bandLabel?: string;
  from?: number;
  logarithmic?: boolean;
  cursor?: number;
  onPick?: (x: number) => void;
}) {
  const { width, height } = size();
  const all = props.curves.flatMap((c) => c.points);
  if (all.length < 2) return null;
  const xs = all.map((p) => p[0]);
  const ys = [...all.map((p) => p[1]), ...(props.bands ?? []).flat().flatMap((b) => [b[1], b[2]])];
  const x = scaleLinear([Math.min(...xs, 0), Math.max(...xs)], [edge.left, width - edge.right]);
  const low = Math.min(...ys, props.from ?? Infinity);
  const y = props.logarithmic
    ? scaleLog([low, Math.max(...ys)], [height - edge.bottom, edge.top]).nice()
    : scaleLinear([low, Math.max(...ys)], [height - edge.bottom, edge.top]).nice(5);
  const yTicks = props.logarithmic ? y.ticks().filter((t) => t.toExponential().startsWith("1e")) : y.ticks(5);
  const curve = line<Point>(
    (p) => x(p[0]),
    (p) => y(p[1]),
  );
  const band = area<[number, number, number]>(
    (p) => x(p[0]),
    (p) => y(p[1]),
    (p) => y(p[2]),
  );
  const pick = (event: PointerEvent) => {
    if (!props.onPick || (event.type === "pointermove" && event.pointerType !== "mouse" && event.buttons === 0)) return;
    const svg = event.currentTarget as SVGSVGElement;
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM()?.inverse());
    props.onPick(x.invert(Math.min(width - edge.right, Math.max(edge.left, at.x))));
  };
  const keys = [...(props.bandLabel ? [{ label: props.bandLabel, side: null, before: false }] : []), ...props.curves];
  return (
    <figure class="chart" data-chart={props.name}>
      <figcaption>
        {props.title} <SaveChart name={props.name} title={props.title} />
      </figcaption>
      <ul class="key">
        {keys.map((k) => (
          <li key={k.label}>
            <svg viewBox="0 0 28 12" width="28" height="12" aria-hidden="true">
              {k.side === null ? (
                <rect width="28" height="12" fill="currentColor" fill-opacity="0.16" />
              ) : (
                <path d="M0 6h28" stroke={inkOf(k.side)} stroke-width="2.2" stroke-dasharray={dashOf(k)} />
              )}
            </svg>
            {k.label}
          </li>
        ))}
      </ul>
      <svg
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={`${props.title}: ${keys.map((k) => k.label).join(", ")}. ${props.xTitle}; ${props.yTitle}`}
        class={props.onPick ? "pickable" : undefined}
        onPointerDown={pick}
        onPointerMove={pick}
      >
        <g stroke="currentColor" stroke-opacity="0.18">
          {x.ticks(isNarrow.value ? 5 : 8).map((t) => (
            <path key={t} d={`M${x(t)} ${edge.top}V${height - edge.bottom}`} />
          ))}
          {yTicks.map((t) => (
            <path key={t} d={`M${edge.left} ${y(t)}H${width - edge.right}`} />
          ))}
        </g>
        <g font-size="13" fill="currentColor">
          {x.ticks(isNarrow.value ? 5 : 8).map((t) => (
            <text key={t} x={x(t)} y={height - edge.bottom + 16} text-anchor="middle">
              {tickWords(t)}
            </text>
          ))}
          {yTicks.map((t) => (
            <text key={t} x={edge.left - 6} y={y(t) + 4} text-anchor="end">
              {tickWords(t)}
            </text>
          ))}
          <text x={width - edge.right} y={height - 8} text-anchor="end">
            {props.xTitle}
          </text>
          <text transform={`translate(14 ${edge.top}) rotate(-90)`} text-anchor="end">
            {props.yTitle}
          </text>
        </g>
        <clipPath id={`in-${props.name}`}>
          <rect x={edge.left} y={edge.top} width={width - edge.left - edge.right} height={height - edge.top - edge.bottom} />
        </clipPath>
        <g clip-path={`url(#in-${props.name})`} fill="none" stroke-width="2.2">
          {(props.bands ?? []).map((b, k) => (
            <path key={k} d={band(b) ?? ""} fill="currentColor" fill-opacity="0.16" stroke="none" />
          ))}
          {props.curves.map((c) => (
            <path key={c.label} d={curve(c.points) ?? ""} stroke={inkOf(c.side)} stroke-dasharray={dashOf(c)} />
          ))}
          {props.cursor === undefined ? null : (
            <path d={`M${x(props.cursor)} ${edge.top}V${height - edge.bottom}`} stroke="currentColor" stroke-width="1.4" stroke-dasharray="4 3" />
          )}
        </g>
      </svg>
    </figure>
  );
}

function inUnits(points: Point[]): Point[] {
  return points.map(([x, um]) => [x, inUnit(um, unit.value)]);
}
function bandInUnits(band: [number, number, number][]): [number, number, number][] {
  return band.map(([x, low, high]) => [x, inUnit(low, unit.value), inUnit(high, unit.value)]);
}

export function Section({ reed }: { reed: Reed }) {
  const { x_mm, y_mm } = reed.cursor.value;
  const sides = (map: ReedMap, at_mm: number, before: boolean): Curve[] => {
    const { left, right } = section(map, at_mm);
    const label = (side: string) => (before ? `${side}, ${word("before")}` : side);
    return [
      { label: label(word("leftFolded")), points: inUnits(left), side: "left", before },
      { label: label(word("rightSide")), points: inUnits(right), side: "right", before },
    ];
  };
  return (
    <Chart
      name="section"
      title={`${word("acrossAt")} ${numeral(x_mm.toFixed(1))}`}
      xTitle={word("fromCentre")}
      yTitle={`${word("thickness")}, ${unitName(unit.value)}`}
      curves={[...sides(reed.map, x_mm, false), ...(reed.before ? sides(reed.before, x_mm + reed.clipped_mm, true) : [])]}
      cursor={Math.abs(y_mm)}
      onPick={(distance) => reed.moveCursor(x_mm, y_mm < 0 ? -distance : distance)}
    />
  );
}

export function Profiles({ reed }: { reed: Reed }) {
  const to = reed.data.vamp_mm;
  const { x_mm, y_mm } = reed.cursor.value;
  const target = reed.data.target;
  const strips = (map: ReedMap, off_mm: number, before: boolean): Curve[] =>
    (
      [
        ["centreCurve", "centre", -0.15, 0.15],
        ["leftRail", "left", -0.9, -0.75],
        ["rightRail", "right", 0.75, 0.9],
      ] as const
    ).map(([name, side, from, until]) => ({
      label: before ? `${word(name)}, ${word("before")}` : word(name),
      // What was clipped off lies before the tip.
      points: inUnits(strip(map, from, until, to + off_mm).flatMap(([x, um]): Point[] => (x > off_mm ? [[x - off_mm, um]] : []))),
      side,
      before,
    }));
  const curves = [...strips(reed.map, 0, false), ...(reed.before ? strips(reed.before, reed.clipped_mm, true) : [])];
  return (
    <Chart
      name="profiles"
      title={word("along")}
      xTitle={word("fromTipAxis")}
      yTitle={`${word("thickness")}, ${unitName(unit.value)}`}
      curves={curves}
      bands={target ? [bandInUnits(target.centre), bandInUnits(target.rail)] : []}
      bandLabel={target ? word("targetBand") : undefined}
      from={0}
      cursor={Math.min(x_mm, to)}
      onPick={(x) => reed.moveCursor(x, y_mm)}
    />
  );
}

function threeCurves(values: ThreeCurves): Curve[] {
  const names = ["left", "centre", "right"] as const;
  return names.map((side, k) => ({
    label: word(side === "centre" ? "centreCurve" : side),
    side,
    points: values.flatMap((v): Point[] => {
      const y = v[k + 1];
      return y === null || y === undefined ? [] : [[v[0], y]];
    }),
  }));
}

export function ClosingChart({ reed }: { reed: Reed }) {
  const bending = reed.data.bending;
  if (!bending) return null;
  return <Chart name="closing" title={word("closing")} xTitle={word("pressure")} yTitle={word("opening")} curves={threeCurves(bending.closing)} from={0} />;
}

export function ComplianceChart({ reed }: { reed: Reed }) {
  const bending = reed.data.bending;
  if (!bending) return null;
  return (
    <Chart name="compliance" title={word("compliance")} xTitle={word("fromTipAxis")} yTitle={word("complianceAxis")} curves={threeCurves(bending.compliance)} logarithmic />
  );
}

/// Imbalances in per cent within their tolerance, stiffnesses as the change in per cent; both about nought.
export function BarsChart({ reed }: { reed: Reed }) {
  const rows = reed.data.bars.flatMap((bar: Bar) => {
    if (bar.before === null || bar.after === null) return [];
    return bar.imbalance
      ? [{ ...bar, was: 100 * bar.before, is: 100 * bar.after, text: numeral(`${(100 * bar.before).toFixed(1)} → ${(100 * bar.after).toFixed(1)} %`) }]
      : [{ ...bar, was: 0, is: 100 * (bar.after / bar.before - 1), text: numeral(`${bar.before.toFixed(2)} → ${bar.after.toFixed(2)} N/mm`) }];
  });
  if (rows.length === 0) return null;
  const tolerance = 100 * reed.data.imbalance_tolerance;
  const most = Math.max(tolerance, ...rows.flatMap((r) => [Math.abs(r.was), Math.abs(r.is)]));
  const { width } = size();
  const x = scaleLinear([-most, most], [10, width - 10]);
  const rowHeight = 50;
  const tall = rowHeight * rows.length + 6;
  return (
    <figure class="chart" data-chart="bars">
      <figcaption>
        {word("bars")} <SaveChart name="bars" title={word("bars")} />
      </figcaption>
      <p class="soft">{word("barsKey")}</p>
      <svg viewBox={`0 0 ${width} ${tall}`} role="img" aria-label={`${word("bars")}: ${rows.map((r) => `${told([r.name])} ${r.text}`).join("; ")}`}>
        {rows.map((r, k) => {
          const top = 20 + rowHeight * k;
          const bar = (value: number, offset: number, filled: boolean) => (
            <rect
              x={Math.min(x(0), x(value))}
              y={top + offset}
              width={Math.max(0.8, Math.abs(x(value) - x(0)))}
              height="9"
              fill={filled ? "currentColor" : "none"}
              stroke="currentColor"
            />
          );
          return (
            <g key={r.name} font-size="13" fill="currentColor">
              {r.imbalance ? <rect x={x(-tolerance)} y={top} width={x(tolerance) - x(-tolerance)} height="25" fill-opacity="0.16" /> : null}
              {r.imbalance ? bar(r.was, 2, false) : null}
              {bar(r.is, r.imbalance ? 14 : 4, true)}
              <text x="10" y={top - 6}>
                {told([r.name])}
              </text>
              <text x={width - 10} y={top - 6} text-anchor="end">
                {r.text}
              </text>
            </g>
          );
        })}
        <path d={`M${x(0)} 4V${tall}`} stroke="currentColor" stroke-opacity="0.5" />
      </svg>
    </figure>
  );
}
