// What the command wrote into the page, in the reader's language and unit.
import { effect } from "@preact/signals";
import { isWord } from "./catalogue";
import { convertNumbers, headingOrSentence } from "./length_words";
import { language, unit, word } from "./state";

/// Elements with data-text get that word; with data-um, numbers of micrometres; all other text its lengths converted.
export function followReader(root: ParentNode): void {
  const sentences: { node: Text; text: string }[] = [];
  const numbers: { element: Element; text: string }[] = [];
  const walker = document.createTreeWalker(root as Node, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode() as Text | null; node; node = walker.nextNode() as Text | null) {
    const parent = node.parentElement;
    if (!parent || parent.closest("script, style, .app, [data-um]")) continue;
    if (/µm|um\b/.test(node.data)) sentences.push({ node, text: node.data });
  }
  for (const element of root.querySelectorAll("[data-um]")) numbers.push({ element, text: element.textContent ?? "" });
  effect(() => {
    for (const { node, text } of sentences) node.data = headingOrSentence(text, unit.value);
    for (const { element, text } of numbers) element.textContent = convertNumbers(text, unit.value);
  });
  effect(() => {
    for (const element of root.querySelectorAll<HTMLElement>("[data-text]")) {
      const name = element.dataset.text ?? "";
      if (!isWord(name)) continue;
      element.textContent = word(name);
      // The rest of what the command wrote is English.
      element.lang = language.value;
    }
  });
}
