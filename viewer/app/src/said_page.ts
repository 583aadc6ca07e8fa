// What the command said in the page, said anew for its reader.
import { effect } from "@preact/signals";
import type { Message } from "./speech";
import { language, told, toldPhrase } from "./state";

const attributes = ["alt", "aria-label"] as const;

/// Elements with data-say hold sentences as a list of messages, or a part of a sentence as one; data-say-alt and
/// data-say-aria-label are said in those attributes. All of it follows language and unit.
export function followReader(root: HTMLElement): void {
  const held = (name: string) =>
    [...root.ownerDocument.querySelectorAll<HTMLElement>(`[${name}]`)].map((element) => ({
      element,
      messages: JSON.parse(element.getAttribute(name) ?? "[]") as Message | Message[],
    }));
  const words = (messages: Message | Message[]) => (Array.isArray(messages) ? told(messages) : toldPhrase(messages));
  const said = held("data-say");
  const described = attributes.map((name) => ({ name, of: held(`data-say-${name}`) }));
  effect(() => {
    for (const { element, messages } of said) {
      element.textContent = words(messages);
      element.lang = language.value;
    }
    for (const { name, of } of described) {
      for (const { element, messages } of of) element.setAttribute(name, words(messages));
    }
  });
}
