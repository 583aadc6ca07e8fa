// What the command wrote, in the reader's language. Its English is the key, as in a message catalogue of gettext.
import { type Language, type Word, kinds, languages, strengths, terms, wordIn, written } from "./catalogue";

type InEvery = readonly string[];

function joined(parts: readonly (InEvery | string)[]): string[] {
  return languages.map((_, k) => parts.map((part) => (typeof part === "string" ? part : (part[k] ?? ""))).join(""));
}

function zones(): InEvery[] {
  const all: InEvery[] = [];
  const inEvery = (name: Word) => languages.map((l) => wordIn(l, name));
  for (const across of ["rail", "flank", "centre"] as const) {
    for (const along of ["tip", "front", "middle", "back"] as const) all.push(joined([inEvery(across), ", ", inEvery(along)]));
    for (const side of ["left", "right"] as const) {
      const place = inEvery(`place_${side}_${across}`);
      all.push(place);
      for (const along of ["tip", "front", "middle", "back"] as const) all.push(joined([place, ", ", inEvery(along)]));
    }
  }
  return all;
}

/// 'Filed B-flat clarinet reed, probably thin blank', and the titles of built-in targets.
function kindsOfReed(): InEvery[] {
  const all: InEvery[] = [];
  const { filed, unfiled, probably, reed, rounded, squarer, strongHeart } = kinds;
  for (const instrument of kinds.instruments) {
    all.push(instrument);
    for (const blank of kinds.blanks) {
      for (const sure of [["", ""], [`${probably[0]} `, `${probably[1]} `]]) {
        all.push([`${instrument[0]} ${reed[0]}, ${sure[0]}${blank[0]}`, `${reed[1]} für ${instrument[1]}, ${sure[1]}${blank[1]}`]);
        for (const file of [filed, unfiled])
          all.push([`${file[0]} ${instrument[0]} ${reed[0]}, ${sure[0]}${blank[0]}`, `${reed[1]} für ${instrument[1]}, ${file[1]}, ${sure[1]}${blank[1]}`]);
      }
    }
    for (const blank of [null, ...kinds.blanks]) {
      for (const file of [filed, unfiled]) {
        for (const form of [rounded, squarer]) {
          for (const heart of [null, strongHeart])
            all.push(joined([instrument, ...(blank ? [", ", blank] : []), ", ", file, ...(heart ? [", ", heart] : []), ", ", form]));
        }
      }
    }
  }
  return all;
}

function stepsOfStrength(): InEvery[] {
  const steps: InEvery[] = [];
  for (const way of [strengths.softer, strengths.harder]) {
    const add = (size: InEvery) => steps.push(joined([size, " ", way]));
    strengths.parts.forEach(add);
    add(strengths.oneStrength);
    add(strengths.more);
    strengths.counts.forEach((count, whole) => {
      if (whole > 0) add(joined([count, " ", strengths.strengths]));
      strengths.partsOver.forEach((part) =>
        add([`${count[0]} and ${part[0]} ${strengths.strengths[0]}`, `${count[1]}${part[1]} ${strengths.strengths[1]}`]),
      );
    });
  }
  return [strengths.like, strengths.likeYours, ...steps, ...steps.map((step) => joined([step, " ", strengths.thanYours]))];
}

const termInEvery = new Map<string, InEvery>();
for (const term of [...zones(), ...kindsOfReed(), ...stepsOfStrength(), ...terms]) termInEvery.set((term[0] ?? "").toLowerCase(), term);

/// A term keeps the size of its first letter in English only; every language begins its sentences itself.
function termIn(index: number, english: string): string | undefined {
  return termInEvery.get(english.toLowerCase())?.[index];
}

interface Pattern {
  match: RegExp;
  names: string[];
  entry: readonly [string, string];
}
const holePattern = /\{([nwx])(\d*)\}/g;
const ofHole: Record<string, string> = { n: "([+\\-−]?\\d+(?:\\.\\d+)?)", w: "([^.:;]+?)", x: "((?:(?!\\. ).)+?)" };

function literally(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
}

let patterns: Pattern[] | null = null;
function allPatterns(): Pattern[] {
  patterns ??= written.map((entry) => {
    const names: string[] = [];
    let source = "", from = 0;
    for (const hole of entry[0].matchAll(holePattern)) {
      source += literally(entry[0].slice(from, hole.index)) + (ofHole[hole[1] ?? ""] ?? "");
      from = hole.index + hole[0].length;
      names.push(hole[0]);
    }
    const rest = entry[0].slice(from);
    source += literally(rest) + (rest === "" ? "$" : "(?=\\s|$)");
    return { match: new RegExp(source, "y"), names, entry };
  });
  return patterns;
}

function begun(text: string, asIn: string): string {
  const first = asIn[0] ?? "";
  return first !== first.toLowerCase() ? (text[0] ?? "").toUpperCase() + text.slice(1) : text;
}

function sentenceAt(text: string, at: number, index: number): { end: number; text: string } | null {
  let best: { end: number; text: string } | null = null;
  const sign = wordIn(languages[index] ?? "en", "decimalSign");
  for (const { match, names, entry } of allPatterns()) {
    match.lastIndex = at;
    const found = match.exec(text);
    if (!found || (best && match.lastIndex <= best.end)) continue;
    const values = new Map<string, string>();
    let known = true;
    names.forEach((name, k) => {
      const value = found[k + 1] ?? "";
      const inLanguage = name.startsWith("{w") ? termIn(index, value) : name.startsWith("{n") ? value.replace(".", sign) : value;
      known &&= inLanguage !== undefined;
      values.set(name, inLanguage ?? "");
    });
    if (!known) continue;
    const filled = (entry[index] ?? "").replace(holePattern, (hole) => values.get(hole) ?? "");
    best = { end: at + found[0].length, text: begun(filled, found[0]) };
  }
  return best;
}

/// `text`, one term or sentences one after the other, in `language`; null if any of it is not known.
export function writtenIn(language: Language, text: string): string | null {
  const index = languages.indexOf(language);
  if (index === 0) return text;
  const [, before = "", inner = "", after = ""] = /^(\s*)([^]*?)(\s*)$/.exec(text) ?? [];
  const term = termIn(index, inner);
  if (term !== undefined) return before + begun(term, inner) + after;
  let out = "";
  for (let at = 0; at < inner.length; ) {
    const sentence = sentenceAt(inner, at, index);
    if (!sentence) return null;
    out += (at === 0 ? "" : " ") + sentence.text;
    at = sentence.end;
    while (at < inner.length && /\s/.test(inner[at] ?? "")) ++at;
  }
  return before + out + after;
}
