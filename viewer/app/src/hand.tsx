// After scraping, on the server's page: how many of the told strokes were made, and keeping what that says of the hand.
import { useSignal } from "@preact/signals";
import { guideKeyOf } from "./guide";
import { answersFrom, shareOfStrokes } from "./guide_progress";
import { type Reed, kept, word } from "./state";

type Keeping = { state: "not yet" | "asking" | "kept" } | { state: "failed"; why: string };

/// Of the strokes that the guide told for the scan before, as far as it was asked; nothing if it was not used.
function shareInGuide(reed: Reed, before: string): number | null {
  const plan = reed.data.before?.plan;
  if (!plan) return null;
  return shareOfStrokes(answersFrom(kept(guideKeyOf(`/reed/${encodeURIComponent(before)}/`, plan))), plan);
}

export function Hand({ reed, token, known }: { reed: Reed; token: string; known: boolean }) {
  const query = new URLSearchParams(location.search);
  const counted = Math.round(100 * Number(query.get("strokes_done") ?? "1"));
  const inGuide = shareInGuide(reed, query.get("before") ?? "");
  const percent = useSignal(query.has("strokes_done") || inGuide === null ? counted : Math.round(100 * inGuide));
  const keeping = useSignal<Keeping>({ state: known ? "kept" : "not yet" });
  if (keeping.value.state === "kept") return <p role="status">{word("handKept")}</p>;
  const withShare = (share: number) => {
    const next = new URLSearchParams(query);
    next.set("strokes_done", String(share / 100));
    return `/compare?${next}`;
  };
  const keep = async () => {
    keeping.value = { state: "asking" };
    const answer = await fetch(`/api/hand?${query}`, { method: "POST", headers: { "X-Canewise-Token": token } }).catch(() => null);
    if (answer?.ok) keeping.value = { state: "kept" };
    else keeping.value = { state: "failed", why: ((await answer?.json().catch(() => null)) as { message?: string } | null)?.message ?? word("lost") };
  };
  const sensible = percent.value >= 1 && percent.value <= 1000;
  return (
    <>
      <p class="row">
        <label>
          {word("strokesMade")}{" "}
          <input type="number" min="1" max="1000" step="1" value={percent.value} onInput={(e) => (percent.value = e.currentTarget.valueAsNumber)} /> %
        </label>
        {percent.value !== counted && sensible ? (
          <a class="button main" href={withShare(percent.value)}>
            {word("countAgain")}
          </a>
        ) : (
          <button disabled={!sensible || keeping.value.state === "asking"} onClick={() => void keep()}>
            {word("keepHand")}
          </button>
        )}
      </p>
      {keeping.value.state === "failed" ? <p role="alert">{keeping.value.why}</p> : null}
    </>
  );
}
