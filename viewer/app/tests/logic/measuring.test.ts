import { expect, test } from "vitest";
import { type Job, after, isOver } from "../../src/measuring";

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
