// The words of every language: the catalogues of scanproc/words, which the command speaks by too. A new language is a
// file there and a row here.
import de from "../../../scanproc/words/de.json";
import en from "../../../scanproc/words/en.json";
import fr from "../../../scanproc/words/fr.json";

export const languages = ["en", "de", "fr"] as const;
export type Language = (typeof languages)[number];

type Id = keyof typeof en;
/// What the page itself says, by the name behind 'page.'.
export type Word = Id extends infer K ? (K extends `page.${infer Name}` ? Name : never) : never;

const catalogues: Record<Language, Readonly<Record<string, string>>> = { en, de, fr };

export function patternIn(language: Language, id: string): string | undefined {
  return Object.hasOwn(catalogues[language], id) ? catalogues[language][id] : undefined;
}
export function isWord(name: string): name is Word {
  return Object.hasOwn(en, `page.${name}`);
}
export const allIds: readonly string[] = Object.keys(en);
