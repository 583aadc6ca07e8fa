// A step in the reader's language.
import type { Fault, Plan, Step } from "./data";
import { toldPhrase, told, word } from "./state";

export function whereWords(step: Pick<Step, "where">): string {
  return toldPhrase(step.where);
}
export function stopWords(step: Pick<Step, "stop">): string {
  return told([step.stop]);
}

/// Place and size of a fault, as the headline has them.
export function faultWords(fault: Fault, size: string): string {
  const place = word("where", { place: [fault.place], from: { number: fault.from_mm, decimals: 0 }, to: { number: fault.to_mm, decimals: 0 } });
  const other = word(fault.side === "left" ? "right" : "left");
  return `${place}: ${word(fault.thin ? "faultThin" : "faultThick", { size: { text: size }, side: { text: other } })}`;
}

/// A difference of the cane that is worth a word.
const stiffer = 0.02;

export function purposeWords(step: Step, plan: Plan): string {
  if (step.aim !== "balance") return word(`purpose_${step.aim}`);
  if (step.for_bending) return word("purpose_bending");
  const here = step.side === "right" ? plan.cane_right_over_left : -plan.cane_right_over_left;
  return word(here > stiffer ? "purpose_cane" : "purpose_balance");
}
