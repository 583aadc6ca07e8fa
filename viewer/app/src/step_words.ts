// A step in the reader's language. In English these are the words that the command writes.
import { type Word } from "./catalogue";
import type { Fault, Plan, Step } from "./data";
import { word } from "./state";

function filled(name: Word, values: Record<string, string | number>): string {
  return word(name).replace(/\{(\w+)\}/g, (_, key: string) => String(values[key] ?? ""));
}

/// To the even one of two that are as near, as the command rounds.
function whole(mm: number): number {
  const up = Math.round(mm);
  return up - mm === 0.5 && up % 2 !== 0 ? up - 1 : up;
}

export function whereWords(step: Pick<Step, "side" | "across" | "from_mm" | "to_mm">): string {
  return filled("where", { place: word(`place_${step.side}_${step.across}`), from: whole(step.from_mm), to: whole(step.to_mm) });
}

/// As the headline has it; `size` with its unit.
export function faultWords(fault: Fault, size: string): string {
  const other = word(fault.side === "left" ? "right" : "left");
  return `${whereWords(fault)}: ${filled(fault.thin ? "faultThin" : "faultThick", { size, side: other })}`;
}

export function stopWords(step: Step): string {
  const every = step.pause === 1 ? word("stopEveryOne") : filled("stopEvery", { n: step.pause });
  const last = step.strokes === 1 ? word("stopForGoodOne") : filled("stopForGood", { n: step.strokes });
  return `${every} ${word(step.aim === "balance" ? "goOnBalance" : "goOnSofter")} ${last}`;
}

/// A difference of the cane that is worth a word.
const stiffer = 0.02;

export function purposeWords(step: Step, plan: Plan): string {
  if (step.aim !== "balance") return word(`purpose_${step.aim}`);
  if (step.for_bending) return word("purpose_bending");
  const here = step.side === "right" ? plan.cane_right_over_left : -plan.cane_right_over_left;
  return word(here > stiffer ? "purpose_cane" : "purpose_balance");
}
