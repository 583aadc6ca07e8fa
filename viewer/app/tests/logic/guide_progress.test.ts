import { sharesMade } from "../../src/guide_progress";
import { describe, expect, test } from "vitest";
import { type Answer, answersFrom, marks, pageAfter, planKey } from "../../src/guide_progress";

const journey = { steps: 3, needsRollingTest: true };

describe("the guide", () => {
  test("leads from the cautions over the rolling test and every step to the next scan", () => {
    const answers: Answer[] = [];
    const seen = [pageAfter(answers, journey).kind];
    for (const a of ["read", "test-passed", "done", "skipped", "done"] as const) {
      answers.push(a);
      seen.push(pageAfter(answers, journey).kind);
    }
    expect(seen).toEqual(["cautions", "rolling-test", "step", "step", "step", "scan-again"]);
    expect(pageAfter(answers, journey)).toEqual({ kind: "scan-again", done: 2 });
    expect(marks(answers, journey)).toEqual(["done", "skipped", "done"]);
  });
  test("never shows a step before the cautions, whatever was kept", () => {
    expect(pageAfter(["done", "done"], journey).kind).toBe("cautions");
    expect(pageAfter(["read", "done"], journey).kind).toBe("rolling-test");
  });
  test("a rolling test that does not agree ends it", () => {
    expect(pageAfter(["read", "test-failed"], journey).kind).toBe("take-nothing-off");
    expect(pageAfter(["read", "test-failed", "done"], journey).kind).toBe("take-nothing-off");
  });
  test("a step broken off because the sides speak alike is the last", () => {
    const answers: Answer[] = ["read", "test-passed", "skipped", "stopped"];
    expect(pageAfter(answers, journey)).toEqual({ kind: "scan-again", done: 1 });
    expect(marks(answers, journey)).toEqual(["skipped", "stopped", null]);
  });
  test("without a rolling test the first step follows the cautions", () => {
    const plain = { steps: 2, needsRollingTest: false };
    expect(pageAfter(["read"], plain)).toEqual({ kind: "step", step: 0 });
    expect(marks(["read", "skipped"], plain)).toEqual(["skipped", null]);
  });
  test("to take the last answer back shows the page again that asked for it", () => {
    const answers: Answer[] = ["read", "test-passed", "done", "done"];
    expect(pageAfter(answers.slice(0, -1), journey)).toEqual({ kind: "step", step: 1 });
  });
});

describe("what the browser kept", () => {
  test.each([null, "", "{", "7", '{"a":1}', '["read","burn it"]', "[1]"])("%s is no progress", (text) => {
    expect(answersFrom(text)).toEqual([]);
  });
  test("comes back as it was", () => {
    const answers: Answer[] = ["read", "test-passed", "done"];
    expect(answersFrom(JSON.stringify(answers))).toEqual(answers);
  });
  test("belongs to one plan", () => {
    expect(planKey("plan a")).toBe(planKey("plan a"));
    expect(planKey("plan a")).not.toBe(planKey("plan b"));
  });
});

describe("strokes made, of those told", () => {
  const journey = { steps: 2, needsRollingTest: true };
  test.each([
    [["read", "test-passed", "done", "done"], [1, 1]],
    [["read", "test-passed", "done", "skipped"], [1, 0]],
    [["read", "test-passed", "done", "stopped"], [1, 0.5]],
    [["read", "test-passed", "stopped"], [0.5, 0]],
  ] as const)("%s: %s", (answers, shares) => {
    expect(sharesMade([...answers], journey)).toEqual(shares);
  });
  test.each([[[]], [["read"]], [["read", "test-failed"]]] as const)("%s: nothing to say", (answers) => {
    expect(sharesMade([...answers], journey)).toBeNull();
  });
});
