// After scraping, on the server's page: how many of the told strokes were made, and keeping what that says of the hand.
import { useSignal } from "@preact/signals";
import { guideKeyOf, pageOf } from "./guide";
import { answersFrom, sharesMade } from "./guide_progress";
import type { Message } from "./speech";
import { type Reed, kept, told, word } from "./state";
import { whereWords } from "./step_words";

type Keeping = { state: "not yet" | "asking" | "kept" } | { state: "failed"; why: Message | null };
const most_percent = 300;

/// Of each step's strokes those that were made, in per cent: as the page was counted, or as the guide was answered.
function percentsMade(reed: Reed, query: URLSearchParams): { counted: number[]; known: number[] } {
  const plan = reed.data.before?.plan;
  const steps = plan?.steps.length ?? 0;
  const asked = (query.get("strokes_done") ?? "1").split(",").map(Number);
  const counted = Array.from({ length: steps }, (_, k) => Math.round(100 * (asked[k] ?? asked[0] ?? 1)));
  if (query.has("strokes_done") || !plan) return { counted, known: counted };
  const journey = { steps, needsRollingTest: plan.needs_rolling_test };
  const inGuide = sharesMade(answersFrom(kept(guideKeyOf(pageOf(query.get("before") ?? ""), plan))), journey);
  return { counted, known: inGuide?.map((share) => Math.round(100 * share)) ?? counted };
}

export function Hand({ reed, token, known }: { reed: Reed; token: string; known: boolean }) {
  const query = new URLSearchParams(location.search);
  const made = percentsMade(reed, query);
  const percents = useSignal(made.known);
  const keeping = useSignal<Keeping>({ state: known ? "kept" : "not yet" });
  if (keeping.value.state === "kept") return <p role="status">{word("handKept")}</p>;
  const withShares = () => {
    const next = new URLSearchParams(query);
    next.set("strokes_done", percents.value.map((p) => String(p / 100)).join(","));
    return `/compare?${next}`;
  };
  const keep = async () => {
    keeping.value = { state: "asking" };
    const answer = await fetch(`/api/hand?${query}`, { method: "POST", headers: { "X-Canewise-Token": token } }).catch(() => null);
    if (answer?.ok) keeping.value = { state: "kept" };
    else keeping.value = { state: "failed", why: ((await answer?.json().catch(() => null)) as { message?: Message } | null)?.message ?? null };
  };
  const sensible = percents.value.every((p) => p >= 0 && p <= most_percent) && percents.value.some((p) => p > 0);
  const changed = percents.value.some((p, k) => p !== made.counted[k]);
  const failed = keeping.value.state !== "failed" ? null : keeping.value.why ? told([keeping.value.why]) : word("lost");
  return (
    <>
      <fieldset>
        <legend>{word("strokesMade")}</legend>
        {(reed.data.before?.plan.steps ?? []).map((step, k) => (
          <label key={k} class="wide">
            {k + 1}. {whereWords(step)}:
            <span class="together">
              <input
                type="number"
                min="0"
                max={most_percent}
                step="1"
                value={percents.value[k]}
                onInput={(e) => {
                  const value = e.currentTarget.valueAsNumber;
                  percents.value = percents.value.map((p, i) => (i === k ? value : p));
                }}
              />{" "}
              %
            </span>
          </label>
        ))}
        {changed && sensible ? (
          <a class="button main" href={withShares()}>
            {word("countAgain")}
          </a>
        ) : (
          <button disabled={!sensible || keeping.value.state === "asking"} onClick={() => void keep()}>
            {word("keepHand")}
          </button>
        )}
      </fieldset>
      {failed ? (
        <p role="alert">{failed}</p>
      ) : null}
    </>
  );
}
