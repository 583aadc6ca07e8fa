// What every view shares: one cursor, one choice of colours, one set of the reader's habits.
import { computed, effect, signal } from "@preact/signals";
import { type Language, type Word, languages } from "./catalogue";
import { type ColouringName, Palette, type Palettes, colouring, colouringsOf } from "./colourings";
import { type PageData, mapBefore, mapOf } from "./data";
import { type LengthUnit, lengthText } from "./lengths";
import { type Argument, type Message, phrase, sentences } from "./speech";

export type ViewName = "surface" | "flat" | "folded";
export type Look = "asSystem" | "light" | "dark";

/// Kept by the browser; a page opened from disk may not be allowed to keep anything.
export function kept(name: string): string | null {
  try {
    return localStorage.getItem("canewise." + name);
  } catch {
    return null;
  }
}
export function keep(name: string, value: string | null): void {
  try {
    if (value === null) localStorage.removeItem("canewise." + name);
    else localStorage.setItem("canewise." + name, value);
  } catch {
    // Then it holds for this visit only.
  }
}

function keptChoice<T extends string>(name: string, choices: readonly T[], fallback: T): T {
  const value = kept(name);
  return choices.find((c) => c === value) ?? fallback;
}

const systemLanguage = languages.find((l) => navigator.language.startsWith(l)) ?? "en";
export const language = signal<Language>(keptChoice("language", languages, systemLanguage));
export const unit = signal<LengthUnit>(keptChoice("unit", ["um", "thou"], "um"));
export const look = signal<Look>(keptChoice("look", ["asSystem", "light", "dark"], "asSystem"));
const systemDark = matchMedia("(prefers-color-scheme: dark)");
const systemIsDark = signal(systemDark.matches);
systemDark.addEventListener("change", (e) => (systemIsDark.value = e.matches));
export const dark = computed(() => (look.value === "asSystem" ? systemIsDark.value : look.value === "dark"));

/// What the page itself says.
export function word(name: Word, values: Record<string, Argument> = {}): string {
  return phrase({ id: `page.${name}`, ...values }, { language: language.value, unit: unit.value });
}

/// What the command says, in the reader's language and unit.
export function told(messages: readonly Message[]): string {
  return sentences(messages, { language: language.value, unit: unit.value });
}
export function toldPhrase(message: Message): string {
  return phrase(message, { language: language.value, unit: unit.value });
}

/// A number with the reader's decimal sign.
export function numeral(text: string): string {
  return language.value === "en" ? text : text.replace(/(\d)\.(?=\d)/g, "$1,");
}
/// A small length in the reader's unit.
export function lengthShown(um: number, digits = 0, signed = false): string {
  return numeral(lengthText(um, unit.value, digits, signed));
}

effect(() => {
  keep("language", language.value);
  keep("unit", unit.value);
  keep("look", look.value);
  document.documentElement.dataset.theme = dark.value ? "dark" : "light";
  document.documentElement.lang = language.value;
});

/// Everything of one reed that the views show.
export class Reed {
  readonly map;
  readonly before;
  readonly palettes: Palettes;
  readonly colourings: ColouringName[];
  readonly view = signal<ViewName>("surface");
  /// Where the browser has no WebGL.
  readonly cannotTurn = signal(false);
  readonly colours = signal<ColouringName>("leftRight");
  readonly cursor = signal<{ x_mm: number; y_mm: number }>({ x_mm: 0, y_mm: 0 });
  readonly exaggeration = signal(5);
  readonly movement = signal<"still" | "bent" | number>("still");
  readonly wholeReed = signal(false);
  readonly showGrid = signal(false);
  readonly showZones = signal(true);
  /// Of the reed's width, from the left.
  readonly wipe = signal(0.5);
  readonly shown;
  /// The scan before in the same colours, where both are held against each other.
  readonly shownBefore;

  constructor(readonly data: PageData) {
    this.map = mapOf(data);
    this.before = mapBefore(data);
    this.palettes = { sequential: new Palette(data.colours.sequential), diverging: new Palette(data.colours.diverging) };
    this.colourings = colouringsOf(data, this.map, this.before);
    this.colours.value = this.colourings[0] ?? "thickness";
    if (this.before) this.view.value = "flat";
    const first = (this.before ? data.before?.plan : data.plan)?.steps[0]?.polygon;
    const off = this.clipped_mm;
    const start = first?.map(([x, y]): [number, number] => [x - off, y]) ?? [[0.3 * data.vamp_mm, 0]];
    this.moveCursor(start.reduce((sum, p) => sum + p[0], 0) / start.length, start.reduce((sum, p) => sum + p[1], 0) / start.length);
    // Both scans in the colours of the one that is farther out.
    const limits = computed(() => {
      if (this.colours.value !== "beforeAfter" || !this.before) return null;
      const all = [this.before, this.map].map((map) => colouring("beforeAfter", data, map));
      return { low: Math.min(...all.map((c) => c.low)), high: Math.max(...all.map((c) => c.high)) };
    });
    this.shown = computed(() => ({ ...colouring(this.colours.value, data, this.mapShown(this.colours.value)), ...limits.value }));
    this.shownBefore = computed(() => (limits.value && this.before ? { ...colouring("beforeAfter", data, this.before), ...limits.value } : null));
  }
  /// What came off is known on the grid of the scan before.
  mapShown(name: ColouringName) {
    return name === "removed" && this.before ? this.before : this.map;
  }
  /// What the clip took between the two scans; places are told from the tip as it is now.
  get clipped_mm(): number {
    return this.before ? (this.data.clipped_mm ?? 0) : 0;
  }
  /// From the tip of the map that a colouring shows.
  onShownMap_mm(x_mm: number): number {
    return this.mapShown(this.colours.value) === this.before ? x_mm + this.clipped_mm : x_mm;
  }
  moveCursor(x_mm: number, y_mm: number): void {
    const x = Math.min(this.data.length_mm, Math.max(0, x_mm));
    const half = this.map.halfWidthAt(x);
    this.cursor.value = { x_mm: x, y_mm: Math.min(half, Math.max(-half, y_mm)) };
  }
  get longest_mm(): number {
    return this.wholeReed.value ? this.data.length_mm : Math.min(this.data.length_mm, this.data.vamp_mm + 1);
  }
}
