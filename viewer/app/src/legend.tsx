// The colour bar of what is shown, and what its marks mean.
import type { Colouring } from "./colourings";
import { unitName } from "./lengths";
import { type Reed, lengthShown, numeral, unit, word } from "./state";
import { unknownCss } from "./colour_image";

function title(c: Colouring, reed: Reed): string {
  switch (c.name) {
    case "leftRight":
    case "beforeAfter":
      return word("overPartner");
    case "target":
      return word("overTarget");
    case "removed":
      return word(reed.data.left_right_only ? "offOneSide" : "offThere");
    case "plan":
      return word("takeOff");
    case "stiffness":
      return word("perTen_stiffness", { depth: { um: 10, decimals: 0 } });
    case "balance":
      return word("perTen_balance", { depth: { um: 10, decimals: 0 } });
    case "sureness":
      return word("sureness");
    case "thickness":
      return word("thickness");
  }
}

export function valueText(c: Colouring, value: number, signed: boolean): string {
  if (c.unit === "percent") {
    const text = Math.abs(value).toFixed(3);
    return (Number(text) === 0 ? "" : value < 0 ? "-" : signed ? "+" : "") + numeral(text);
  }
  return lengthShown(value, 0, signed);
}

/// What the colours and marks mean, in a line.
export function legendWords(reed: Reed): string {
  const c = reed.shown.value;
  const marks = [word("unknown"), ...(c.diverging && c.unit === "um" ? [word("pale")] : []), ...(c.diverging ? [word("dots")] : [])];
  return `${title(c, reed)}, ${c.unit === "percent" ? "%" : unitName(unit.value)}; ${marks.join("; ")}.`;
}

export function Legend({ reed }: { reed: Reed }) {
  const c = reed.shown.value;
  const palette = c.diverging ? reed.palettes.diverging : reed.palettes.sequential;
  const steps = 48;
  const ticks = [c.low, 0.5 * (c.low + c.high), c.high];
  const unitText = c.unit === "percent" ? "%" : unitName(unit.value);
  return (
    <div class="legend">
      <svg viewBox="0 0 300 42" role="img" aria-label={`${title(c, reed)}, ${unitText}: ${ticks.map((t) => valueText(c, t, c.diverging)).join(", ")}`}>
        {Array.from({ length: steps }, (_, k) => {
          const { r, g, b } = palette.at(k / (steps - 1));
          return <rect key={k} x={10 + (280 / steps) * k} y="2" width={280 / steps + 0.6} height="16" fill={`rgb(${r},${g},${b})`} />;
        })}
        {ticks.map((t, k) => (
          <text key={k} x={10 + 140 * k} y="36" font-size="14" fill="currentColor" text-anchor={k === 0 ? "start" : k === 1 ? "middle" : "end"}>
            {valueText(c, t, c.diverging)}
          </text>
        ))}
      </svg>
      <p>
        {legendWords(reed)}{" "}
        <svg class="sample" viewBox="0 0 16 16" aria-hidden="true">
          <rect width="16" height="16" fill={unknownCss} />
          <path d="M-2 10L10 -2M-2 18L18 -2M6 18L18 6" stroke="rgb(150,150,150)" stroke-width="2.5" />
        </svg>
      </p>
    </div>
  );
}
