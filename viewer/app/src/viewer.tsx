// The reed and all that is linked to its cursor.
import { useEffect, useRef } from "preact/hooks";
import { type ColouringName } from "./colourings";
import { Profiles, Section } from "./charts";
import { bytesOf } from "./data";
import { download, drawingAround, drawingOf, pngFromSvg, sheet } from "./exports";
import { FlatMap, description } from "./flat_map";
import { Legend, legendWords, valueText } from "./legend";
import { unitName } from "./lengths";
import { readingAt, thicknessCsv } from "./read_out";
import { type Reed, type ViewName, dark, lengthShown, numeral, told, unit, word } from "./state";
import { faultWords } from "./step_words";
import { Surface } from "./surface";

const views: ViewName[] = ["surface", "flat", "folded"];

function usable(reed: Reed, view: ViewName): ColouringName[] {
  return view === "folded" ? reed.colourings.filter((c) => c === "leftRight" || c === "beforeAfter") : reed.colourings;
}

function SurfaceView({ reed, onSurface }: { reed: Reed; onSurface: (s: Surface | null) => void }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const surface = useRef<Surface | null>(null);
  useEffect(() => {
    if (!canvas.current) return;
    try {
      surface.current = new Surface(canvas.current, reed.data);
    } catch {
      reed.cannotTurn.value = true;
      reed.view.value = "flat";
      return;
    }
    onSurface(surface.current);
    return () => {
      onSurface(null);
      surface.current?.close();
      surface.current = null;
    };
  }, []);
  const colours = reed.shown.value;
  const map = reed.mapShown(reed.colours.value);
  const { x_mm, y_mm } = reed.cursor.value;
  const shownBefore = reed.shownBefore.value;
  const wipe = reed.wipe.value;
  useEffect(() => {
    const before = shownBefore && reed.before ? { map: reed.before, colours: shownBefore, share: wipe, clipped_mm: reed.clipped_mm } : null;
    surface.current?.show(map, colours, reed.palettes, reed.exaggeration.value, reed.longest_mm, before);
    surface.current?.showPlaces(reed.colours.value === "plan" || reed.colours.value === "leftRight" ? reed.data.plan.steps : []);
  }, [map, colours, reed.exaggeration.value, reed.wholeReed.value, shownBefore, wipe]);
  useEffect(() => surface.current?.showCursor(reed.onShownMap_mm(x_mm), y_mm), [x_mm, y_mm, reed.exaggeration.value, map]);
  useEffect(() => surface.current?.move(reed.movement.value), [reed.movement.value, reed.exaggeration.value]);
  useEffect(() => surface.current?.inkIs(dark.value ? "#ffffff" : "#1a1a1e"), [dark.value]);
  const pick = (event: PointerEvent) => {
    const at = surface.current?.pick(event.clientX, event.clientY);
    if (at) reed.moveCursor(at.x_mm - reed.onShownMap_mm(0), at.y_mm);
  };
  // A finger or a mouse that moved was turning the reed, one that stayed points at a place.
  const pressed = useRef({ x: 0, y: 0 });
  const stayed_px = 6;
  return (
    <canvas
      ref={canvas}
      class="surface"
      data-view="surface"
      role="img"
      aria-label={description(reed)}
      onPointerMove={(e) => e.pointerType === "mouse" && e.buttons === 0 && pick(e)}
      onPointerDown={(e) => (pressed.current = { x: e.clientX, y: e.clientY })}
      onPointerUp={(e) => Math.hypot(e.clientX - pressed.current.x, e.clientY - pressed.current.y) < stayed_px && pick(e)}
    />
  );
}

export function ReadOut({ reed }: { reed: Reed }) {
  const { x_mm, y_mm } = reed.cursor.value;
  const reading = readingAt(reed.map, reed.data.zones, x_mm, y_mm, reed.data.faults);
  const u = unitName(unit.value);
  const place =
    `${numeral(x_mm.toFixed(1))} ${word("fromTip")}, ` +
    (Math.abs(y_mm) < 0.05 ? word("onCentre") : `${numeral(Math.abs(y_mm).toFixed(1))} ${word(y_mm < 0 ? "leftOf" : "rightOf")}`);
  const value =
    reading && !Number.isNaN(reading.thickness_um)
      ? `${lengthShown(reading.thickness_um)} ±${lengthShown(Math.max(1, reading.u95_um))} ${u}`
      : word("notSeen");
  const zone = reading?.zone;
  const shown = reed.shown.value;
  const then = shown.name === "beforeAfter" && reed.before ? readingAt(reed.before, reed.data.zones, x_mm + reed.clipped_mm, y_mm) : null;
  const shownMap = reed.mapShown(reed.colours.value);
  const at = shownMap.cellAt(reed.onShownMap_mm(x_mm), y_mm);
  const seen = at ? shown.look(shownMap.index(at.row, at.column)) : null;
  const isPlain = shown.name === "thickness" || shown.name === "leftRight" || shown.name === "beforeAfter" || shown.name === "sureness";
  return (
    <div class="readout" aria-live="polite">
      <p>
        <span>{place}</span> <strong data-read="thickness">{value}</strong>
      </p>
      {reading && !then && !Number.isNaN(reading.difference_um) ? (
        <p>
          {word("rightMinusLeft")}: <strong data-read="difference">{lengthShown(reading.difference_um, 1, true)}</strong>
          {Number.isNaN(reading.u95_difference_um) ? "" : ` ±${lengthShown(reading.u95_difference_um, 1)}`} {u}
        </p>
      ) : null}
      {then && reading ? (
        <p>
          {word("rightMinusLeft")}: {word("before")} <strong data-read="before">{lengthShown(then.difference_um, 1, true)}</strong>, {word("after")}{" "}
          <strong>{lengthShown(reading.difference_um, 1, true)}</strong> {u}
        </p>
      ) : null}
      {seen && !isPlain && seen.trust !== "unknown" ? (
        <p>
          {word(shown.name)}: <strong>{valueText(shown, seen.value, shown.diverging)}</strong> {shown.unit === "percent" ? "%" : u}
        </p>
      ) : null}
      {reading?.fault && !then ? <p data-read="fault">{faultWords(reading.fault, `${lengthShown(reading.fault.difference_um)} ${u}`)}</p> : null}
      {zone ? (
        <p>
          {word("zone")}: {word(zone.across as "rail")}, {word(zone.along as "tip")};{" "}
          {zone.difference_um === null ? "" : `${word("zoneMean")} ${lengthShown(zone.difference_um, 1, true)} ±${lengthShown(zone.u95_um ?? NaN, 1)} ${u}; `}
          <strong>{word(zone.verdict)}</strong>
        </p>
      ) : null}
    </div>
  );
}

function SaveMenu({ reed, stage, surface }: { reed: Reed; stage: { current: HTMLDivElement | null }; surface: { current: Surface | null } }) {
  const name = `reed-${reed.view.value}-${reed.colours.value}`;
  const sheetOfView = (): string => {
    const svg = stage.current?.querySelector<SVGSVGElement>("svg.flat");
    const canvas = stage.current?.querySelector("canvas");
    const view = svg ? drawingOf(svg, reed.view.value === "folded" ? 240 : 380) : drawingAround(surface.current?.picture() ?? "", canvas?.clientWidth ?? 600, canvas?.clientHeight ?? 600);
    const legend = stage.current?.closest(".viewer")?.querySelector<SVGSVGElement>(".legend > svg");
    return sheet(told(reed.data.headline), [view, ...(legend ? [drawingOf(legend, 340)] : [])], `${word(reed.colours.value)}: ${legendWords(reed)}`);
  };
  const savePng = async () => download(name + ".png", await pngFromSvg(sheetOfView()));
  const template = reed.data.template_pdf;
  return (
    <details class="menu">
      <summary>{word("save_as")}</summary>
      <div>
        <button onClick={() => void savePng()}>{word("picture")}</button>
        <button onClick={() => download(name + ".svg", new Blob([sheetOfView()], { type: "image/svg+xml" }))}>{word("drawing")}</button>
        <button onClick={() => download("thickness.csv", new Blob([thicknessCsv(reed.map)], { type: "text/csv" }))}>{word("table")}</button>
        {template ? (
          <button onClick={() => download("template.pdf", new Blob([bytesOf(template) as BlobPart], { type: "application/pdf" }))}>{word("template")}</button>
        ) : null}
        <button onClick={() => window.print()}>{word("print")}</button>
      </div>
    </details>
  );
}

function SurfaceControls({ reed, surface }: { reed: Reed; surface: { current: Surface | null } }) {
  const turn = 0.15;
  const modes = reed.data.bending?.modes ?? [];
  return (
    <>
      <div class="row" role="group" aria-label={word("surface")}>
        <button aria-label={word("turnLeft")} onClick={() => surface.current?.orbit(-turn, 0)}>
          ←
        </button>
        <button aria-label={word("turnRight")} onClick={() => surface.current?.orbit(turn, 0)}>
          →
        </button>
        <button aria-label={word("tiltUp")} onClick={() => surface.current?.orbit(0, turn)}>
          ↑
        </button>
        <button aria-label={word("tiltDown")} onClick={() => surface.current?.orbit(0, -turn)}>
          ↓
        </button>
        <button aria-label={word("zoomIn")} onClick={() => surface.current?.zoom(0.85)}>
          +
        </button>
        <button aria-label={word("zoomOut")} onClick={() => surface.current?.zoom(1.18)}>
          −
        </button>
        <button onClick={() => surface.current?.fit()}>{word("fit")}</button>
      </div>
      <label>
        {word("height")} {reed.exaggeration.value}
        <input type="range" min="1" max="20" value={reed.exaggeration.value} onInput={(e) => (reed.exaggeration.value = Number(e.currentTarget.value))} />
      </label>
      {reed.data.bending ? (
        <label>
          {word("movement")}
          <select
            value={String(reed.movement.value)}
            onChange={(e) => {
              const v = e.currentTarget.value;
              reed.movement.value = v === "still" || v === "bent" ? v : Number(v);
            }}
          >
            <option value="still">{word("still")}</option>
            <option value="bent">{word("bent")}</option>
            {modes.map((mode, k) => (
              <option key={k} value={String(k)}>
                {word("mode")} {k + 1}, {mode.kind === "twisting" ? word("twisting") : word("bending")}
                {mode.hz === null ? "" : `, ${mode.hz.toFixed(0)} Hz`}
              </option>
            ))}
          </select>
        </label>
      ) : null}
    </>
  );
}

export function Viewer({ reed }: { reed: Reed }) {
  const stage = useRef<HTMLDivElement>(null);
  const surface = useRef<Surface | null>(null);
  const view = reed.view.value;
  const choices = usable(reed, view);
  const setView = (name: ViewName) => {
    const allowed = usable(reed, name);
    if (!allowed.includes(reed.colours.value)) reed.colours.value = allowed[0] ?? "thickness";
    reed.view.value = name;
  };
  const onKey = (event: KeyboardEvent) => {
    // Some keyboards write [ and ] with AltGr, which comes as Ctrl and Alt.
    if ((event.ctrlKey || event.metaKey || event.altKey) && !event.getModifierState("AltGraph")) return;
    const step = event.shiftKey ? 1 : reed.data.grid.cell_mm;
    const { x_mm, y_mm } = reed.cursor.value;
    const s = surface.current;
    const turn = 0.12;
    const actions: Record<string, () => void> = {
      ArrowUp: () => reed.moveCursor(x_mm - step, y_mm),
      ArrowDown: () => reed.moveCursor(x_mm + step, y_mm),
      ArrowLeft: () => reed.moveCursor(x_mm, y_mm - step),
      ArrowRight: () => reed.moveCursor(x_mm, y_mm + step),
      a: () => s?.orbit(-turn, 0),
      d: () => s?.orbit(turn, 0),
      w: () => s?.orbit(0, turn),
      s: () => s?.orbit(0, -turn),
      "+": () => s?.zoom(0.85),
      "-": () => s?.zoom(1.18),
      f: () => s?.fit(),
      "[": () => (reed.exaggeration.value = Math.max(1, reed.exaggeration.value - 1)),
      "]": () => (reed.exaggeration.value = Math.min(20, reed.exaggeration.value + 1)),
    };
    const action = actions[event.key] ?? actions[event.key.toLowerCase()];
    if (!action) return;
    event.preventDefault();
    action();
  };
  return (
    <div class="viewer">
      <div class="row choices">
        <div class="segments" role="group" aria-label={word("view")}>
          {views.filter((name) => name !== "surface" || !reed.cannotTurn.value).map((name) => (
            <button key={name} aria-pressed={view === name} onClick={() => setView(name)}>
              {word(name)}
            </button>
          ))}
        </div>
        <label>
          {word("colours")}
          <select value={reed.colours.value} onChange={(e) => (reed.colours.value = e.currentTarget.value as ColouringName)}>
            {choices.map((name) => (
              <option key={name} value={name}>
                {word(name)}
              </option>
            ))}
          </select>
        </label>
      </div>
      {reed.cannotTurn.value ? <p role="status">{word("noSurface")}</p> : null}
      <div class="stage" ref={stage} tabIndex={0} role="group" aria-label={`${word("seeIt")}. ${word("keys")}`} onKeyDown={onKey}>
        {view === "surface" ? <SurfaceView reed={reed} onSurface={(s) => (surface.current = s)} /> : <FlatMap reed={reed} folded={view === "folded"} />}
      </div>
      <ReadOut reed={reed} />
      <Legend reed={reed} />
      <div class="row tools">
        {view === "surface" ? <SurfaceControls reed={reed} surface={surface} /> : null}
        {reed.colours.value === "beforeAfter" ? (
          <label class="wide">
            {word("wipe")} {Math.round(100 * reed.wipe.value)} %
            <input type="range" min="0" max="1" step="0.01" value={reed.wipe.value} onInput={(e) => (reed.wipe.value = Number(e.currentTarget.value))} />
          </label>
        ) : null}
        <label>
          {word("extent")}
          <select value={reed.wholeReed.value ? "whole" : "vamp"} onChange={(e) => (reed.wholeReed.value = e.currentTarget.value === "whole")}>
            <option value="vamp">{word("vamp")}</option>
            <option value="whole">{word("whole")}</option>
          </select>
        </label>
        {view === "surface" ? null : (
          <>
            <label class="check">
              <input type="checkbox" checked={reed.showZones.value} onChange={(e) => (reed.showZones.value = e.currentTarget.checked)} /> {word("zones")}
            </label>
            <label class="check">
              <input type="checkbox" checked={reed.showGrid.value} onChange={(e) => (reed.showGrid.value = e.currentTarget.checked)} /> {word("grid")}
            </label>
          </>
        )}
        <SaveMenu reed={reed} stage={stage} surface={surface} />
      </div>
      <p class="soft keys">{word("keys")}</p>
      <div class="curves">
        <Section reed={reed} />
        <Profiles reed={reed} />
      </div>
    </div>
  );
}
