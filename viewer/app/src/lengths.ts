// Small lengths, as the reader wants them: micrometres or thousandths of an inch.

export type LengthUnit = "um" | "thou";
export const umPerThou = 25.4;

export function unitName(unit: LengthUnit): string {
  return unit === "um" ? "µm" : "thou";
}
export function inUnit(um: number, unit: LengthUnit): number {
  return unit === "um" ? um : um / umPerThou;
}
/// A tenth of a micrometre is finer than any scan; a hundredth of a thousandth of an inch is as fine.
export function lengthText(um: number, unit: LengthUnit, digits = 0, signed = false): string {
  const value = inUnit(um, unit);
  const text = Math.abs(value).toFixed(unit === "um" ? digits : digits + 2);
  const isZero = Number(text) === 0;
  return (value < 0 && !isZero ? "-" : signed && !isZero ? "+" : "") + text;
}
