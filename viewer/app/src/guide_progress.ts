// How far somebody came through the guide: a list of answers, so that undo is to take the last one back.

/// "stopped" is a step broken off because the reed plays as it should: nothing comes after it.
export type Answer = "read" | "test-passed" | "test-failed" | "done" | "skipped" | "stopped";

export type Page =
  | { kind: "cautions" }
  | { kind: "rolling-test" }
  | { kind: "take-nothing-off" }
  | { kind: "step"; step: number }
  | { kind: "scan-again"; done: number };

export interface Journey {
  steps: number;
  needsRollingTest: boolean;
}

/// The page that comes after these answers.
export function pageAfter(answers: Answer[], journey: Journey): Page {
  let left = [...answers];
  if (left.shift() !== "read") return { kind: "cautions" };
  if (journey.needsRollingTest) {
    const answer = left.shift();
    if (answer === "test-failed") return { kind: "take-nothing-off" };
    if (answer !== "test-passed") return { kind: "rolling-test" };
  }
  const stopped = left.includes("stopped");
  if (!stopped && left.length < journey.steps) return { kind: "step", step: left.length };
  left = left.slice(0, journey.steps);
  return { kind: "scan-again", done: left.filter((a) => a === "done" || a === "stopped").length };
}

/// What was answered for each step so far.
export function marks(answers: Answer[], journey: Journey): ("done" | "skipped" | "stopped" | null)[] {
  const first = journey.needsRollingTest ? 2 : 1;
  return Array.from({ length: journey.steps }, (_, k) => {
    const answer = answers[first + k];
    return answer === "done" || answer === "skipped" || answer === "stopped" ? answer : null;
  });
}

/// Of each step's strokes the share that was made, as far as the answers say: of a step that was broken off about half.
/// Nothing if no step was answered.
export function sharesMade(answers: Answer[], journey: Journey): number[] | null {
  const made = marks(answers, journey);
  if (made.every((m) => m === null)) return null;
  const shares = { done: 1, stopped: 0.5, skipped: 0 };
  return made.map((m) => (m === null ? 0 : shares[m]));
}

const known: readonly string[] = ["read", "test-passed", "test-failed", "done", "skipped", "stopped"];

/// From what the browser kept; anything else than a list of answers is no progress.
export function answersFrom(text: string | null): Answer[] {
  try {
    const value: unknown = JSON.parse(text ?? "[]");
    return Array.isArray(value) && value.every((v) => known.includes(v as string)) ? (value as Answer[]) : [];
  } catch {
    return [];
  }
}

/// Names one plan, so that progress with another reed is not taken for this one's.
export function planKey(text: string): string {
  let hash = 2166136261;
  for (const c of text) hash = Math.imul(hash ^ (c.codePointAt(0) ?? 0), 16777619);
  return (hash >>> 0).toString(16);
}
