// What the command wrote into the page, in the reader's language and unit.
import { effect } from "@preact/signals";
import { isWord } from "./catalogue";
import { convertNumbers } from "./length_words";
import { language, numeral, told, unit, word } from "./state";

const described = ["alt", "aria-label"] as const;

/// Elements with data-text get that word; with data-um, numbers of micrometres; all other text is translated where the
/// catalogue knows it, marked as English where not, and its lengths are converted.
export function followReader(root: HTMLElement): void {
  const texts: { node: Text; parent: HTMLElement; text: string }[] = [];
  const numbers: { node: Text; text: string; um: boolean }[] = [];
  const attributes: { element: Element; name: string; text: string }[] = [];
  const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode() as Text | null; node; node = walker.nextNode() as Text | null) {
    const parent = node.parentElement;
    if (!parent || parent.closest("script, style, .app, [data-text]")) continue;
    if (/\p{L}/u.test(node.data)) texts.push({ node, parent, text: node.data });
    else if (/\d/.test(node.data)) numbers.push({ node, text: node.data, um: parent.closest("[data-um]") !== null });
  }
  for (const name of described) {
    for (const element of root.querySelectorAll(`[${name}]:not(.app *)`)) attributes.push({ element, name, text: element.getAttribute(name) ?? "" });
  }
  const title = document.title;
  effect(() => {
    const foreign = new Set<HTMLElement>();
    for (const { node, parent, text } of texts) {
      const known = told(text);
      node.data = known.text;
      if (known.lang !== language.value) foreign.add(parent);
    }
    // The page itself is in the reader's language.
    for (const { parent } of texts) parent.lang = foreign.has(parent) ? "en" : language.value;
    for (const { element, name, text } of attributes) element.setAttribute(name, told(text).text);
    document.title = told(title).text;
  });
  effect(() => {
    for (const { node, text, um } of numbers) node.data = numeral(um ? convertNumbers(text, unit.value) : text);
  });
  effect(() => {
    for (const element of root.querySelectorAll<HTMLElement>("[data-text]")) {
      const name = element.dataset.text ?? "";
      if (!isWord(name)) continue;
      element.textContent = word(name);
      element.lang = language.value;
    }
  });
}
