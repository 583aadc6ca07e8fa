// Texts that the command wrote in micrometres, in the reader's unit.
import { type LengthUnit, inUnit, umPerThou, unitName } from "./lengths";

/// Every '12.3 µm' of a sentence in the reader's unit; both numbers of '12 ±3 µm' and '10 to 20 µm' are meant.
export function convertSentence(text: string, unit: LengthUnit, decimalSign = "."): string {
  if (unit === "um") return text;
  const number = /[+\-−]?\d+(?:[.,]\d+)?/;
  const pattern = new RegExp(`(${number.source})((?: ?±| to | bis |–)(${number.source}))?( ?)(µm|um)(?![\\w³²])`, "g");
  return text.replace(pattern, (_all, first: string, joined: string | undefined, second: string | undefined, space: string) => {
    const inThou = (n: string) => {
      const value = Number(n.replace("−", "-").replace(",", ".")) / umPerThou;
      return (n.startsWith("+") ? "+" : "") + value.toFixed(/[.,]/.test(n) ? 3 : 2).replace(".", decimalSign);
    };
    const rest = joined && second ? joined.replace(second, inThou(second)) : "";
    return `${inThou(first)}${rest}${space}thou`;
  });
}

/// 'U95, µm' heads a column of numbers; it is no length itself.
export function headingOrSentence(text: string, to: LengthUnit, decimalSign = "."): string {
  if (to === "um") return text;
  return convertSentence(text, to, decimalSign).replace(/(?<=, |in )µm(?![\w²³])/g, unitName(to));
}

export function convertNumbers(text: string, to: LengthUnit): string {
  if (to === "um") return text;
  return text.replace(/([+-]?)(\d+(?:\.\d+)?)/g, (_all, sign: string, digits: string) => {
    const places = (digits.split(".")[1] ?? "").length + 2;
    return sign + inUnit(Number(digits), to).toFixed(places);
  });
}
