// Messages as the command writes them, said in the reader's language and unit. scanproc/words is the other side.
import { IntlMessageFormat } from "intl-messageformat";
import { type Language, patternIn } from "./catalogue";
import { type LengthUnit, umPerThou, unitName } from "./lengths";

export interface Quantity {
  decimals: number;
  signed?: boolean;
  number?: number | null;
  um?: number | null;
  mm?: number | null;
}
export type Argument = number | { text: string } | { word: string } | Quantity | Message[];
export interface Message {
  id: string;
  [name: string]: string | Argument;
}

export interface Speech {
  language: Language;
  unit: LengthUnit;
}

/// The reader's decimal sign; no grouping.
export function numberText(value: number, decimals: number, signed: boolean, language: Language): string {
  const text = Number.isNaN(value) ? "nan" : Math.abs(value).toFixed(decimals);
  const isZero = !/[1-9]/.test(text);
  const sign = isZero ? "" : value < 0 ? "-" : signed ? "+" : "";
  return sign + (language === "en" ? text : text.replace(".", ","));
}

/// A hundredth of a thousandth of an inch is about as fine as a tenth of a micrometre.
const finerInThou = 2;

function quantityText(q: Quantity, speech: Speech): { bare: string; unit: string } {
  const text = (value: number | null | undefined, decimals: number) => numberText(value ?? NaN, decimals, q.signed ?? false, speech.language);
  if (q.um !== undefined) {
    const thou = speech.unit === "thou";
    const bare = text(q.um === null || !thou ? q.um : q.um / umPerThou, thou ? q.decimals + finerInThou : q.decimals);
    return { bare, unit: unitName(speech.unit) };
  }
  if (q.mm !== undefined) {
    return { bare: text(q.mm, q.decimals), unit: "mm" };
  }
  return { bare: text(q.number, q.decimals), unit: "" };
}

const formats = new Map<string, IntlMessageFormat>();
function formatOf(language: Language, id: string): IntlMessageFormat | null {
  const key = `${language} ${id}`;
  let format = formats.get(key);
  if (!format) {
    const pattern = patternIn(language, id);
    if (pattern === undefined) return null;
    // What looks like a tag is text.
    format = new IntlMessageFormat(pattern, language, undefined, { ignoreTag: true });
    formats.set(key, format);
  }
  return format;
}

/// As the catalogue has it.
export function phrase(message: Message, speech: Speech): string {
  const values: Record<string, string | number> = {};
  for (const [name, argument] of Object.entries(message)) {
    if (name === "id" || typeof argument === "string") continue;
    if (typeof argument === "number") values[name] = argument;
    else if (Array.isArray(argument)) {
      const [only] = argument;
      values[name] = only && argument.length === 1 ? phrase(only, speech) : sentences(argument, speech);
    } else if ("text" in argument) values[name] = argument.text;
    else if ("word" in argument) values[name] = argument.word;
    else {
      const { bare, unit } = quantityText(argument, speech);
      values[name] = unit === "" ? bare : `${bare} ${unit}`;
      values[`${name}_bare`] = bare;
      values[`${name}_unit`] = unit;
    }
  }
  try {
    return String(formatOf(speech.language, message.id)?.format(values) ?? `[${message.id}]`);
  } catch {
    return `[${message.id}]`;
  }
}

/// Each begins with a capital letter, one space between two.
export function sentences(messages: readonly Message[], speech: Speech): string {
  return messages
    .map((message) => phrase(message, speech))
    .filter((text) => text !== "")
    .map((text) => {
      const [first = ""] = text;
      return first.toUpperCase() + text.slice(first.length);
    })
    .join(" ");
}
