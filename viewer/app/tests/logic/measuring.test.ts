import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { type Job, Patience, after, isOver } from "../../src/measuring";

const job: Job = { file: "reed.ply", state: "measuring", fraction: 0.4, message: { id: "stage.read" }, result: "" };

test("an event without a share keeps the share", () => {
  expect(after(job, { state: "measuring", message: { id: "stage.thickness" } })).toMatchObject({ fraction: 0.4, message: { id: "stage.thickness" } });
});
test("a scan that is done is whole, and says where its result is", () => {
  expect(after(job, { state: "done", result: "reed-2" })).toMatchObject({ state: "done", fraction: 1, result: "reed-2" });
});
test("a refused scan keeps what the command said", () => {
  expect(after(job, { state: "refused", message: { id: "verbatim" } }).message).toEqual({ id: "verbatim" });
});
test("what can still change is not over", () => {
  expect((["uploading", "waiting", "measuring"] as const).map(isOver)).toEqual([false, false, false]);
  expect((["done", "refused", "cancelled", "lost"] as const).map(isOver)).toEqual([true, true, true, true]);
});

describe("a connection that is gone", () => {
  let lost = 0;
  beforeEach(() => {
    vi.useFakeTimers();
    vi.stubGlobal("window", globalThis);
    lost = 0;
  });
  afterEach(() => {
    vi.useRealTimers();
    vi.unstubAllGlobals();
  });
  const patience = () => new Patience(8000, () => lost++);

  test("is lost after its time, counted from when it went", () => {
    const p = patience();
    p.gone();
    vi.advanceTimersByTime(5000);
    p.gone(); // The browser tried again, in vain.
    vi.advanceTimersByTime(2999);
    expect(lost).toBe(0);
    vi.advanceTimersByTime(1);
    expect(lost).toBe(1);
  });
  test("that comes back in time is not lost, and has its whole time the next time", () => {
    const p = patience();
    p.gone();
    vi.advanceTimersByTime(7000);
    p.back();
    vi.advanceTimersByTime(60000);
    p.gone();
    vi.advanceTimersByTime(7999);
    expect(lost).toBe(0);
    vi.advanceTimersByTime(1);
    expect(lost).toBe(1);
  });
  test("while the page slept gets its time anew when it wakes", () => {
    const p = patience();
    p.gone();
    vi.setSystemTime(Date.now() + 3600_000);
    vi.advanceTimersByTime(8000);
    expect(lost).toBe(0);
    vi.advanceTimersByTime(7999);
    expect(lost).toBe(0);
    vi.advanceTimersByTime(1);
    expect(lost).toBe(1);
  });
});
