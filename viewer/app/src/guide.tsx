// At the bench: one step at a time, large, with wet hands and a blade in them.
import { useEffect, useRef } from "preact/hooks";
import { signal, useSignal } from "@preact/signals";
import type { Plan } from "./data";
import { StepPlaces, Axes } from "./flat_map";
import { type Answer, type Page, answersFrom, marks, pageAfter, planKey } from "./guide_progress";
import { unitName } from "./lengths";
import { type Reed, keep, kept, lengthShown, told, unit, word } from "./state";
import { stopWords, whereWords } from "./step_words";

/// [ISO7810], ID-1.
const cardWidth_mm = 85.6;
const cardHeight_mm = 53.98;
/// CSS's own idea of a millimetre, until the reader measures.
const pxPerMmUnmeasured = 96 / 25.4;

/// Of this plan of this scan's page: another scan of the same reed may have the same plan.
export function guideKeyOf(page: string, plan: Plan): string {
  return "guide." + planKey(page + JSON.stringify(plan));
}
export function pageOf(result: string): string {
  return `/reed/${encodeURIComponent(result)}/`;
}
/// What is left after scraping is the plan of the scan after, on whichever page it is done.
export function guideKey(reed: Reed): string {
  const after = reed.before && isServed() ? new URLSearchParams(location.search).get("after") : null;
  return guideKeyOf(after === null ? location.pathname : pageOf(after), reed.data.plan);
}

/// Only the server's pages lead back to its list of reeds.
function isServed(): boolean {
  return document.querySelector('nav a[href="/"]') !== null;
}

export const pxPerMm = signal<number | null>(Number(kept("px-per-mm")) || null);

function Card({ onClose }: { onClose: () => void }) {
  const scale = useSignal(pxPerMm.value ?? pxPerMmUnmeasured);
  return (
    <div class="card-page">
      <h2>{word("setScale")}</h2>
      <p>{word("cardText")}</p>
      <svg class="card" width={cardWidth_mm * scale.value} height={cardHeight_mm * scale.value} role="img" aria-label={word("cardText")}>
        <rect x="1" y="1" width={cardWidth_mm * scale.value - 2} height={cardHeight_mm * scale.value - 2} rx="12" fill="none" stroke="currentColor" stroke-width="2" />
      </svg>
      <label class="wide">
        {word("cardWidth")} {Math.round(cardWidth_mm * scale.value)} px
        <input type="range" min="2" max="9" step="0.01" value={scale.value} onInput={(e) => (scale.value = Number(e.currentTarget.value))} />
      </label>
      <div class="big-row">
        <button
          class="main"
          onClick={() => {
            pxPerMm.value = scale.value;
            keep("px-per-mm", scale.value.toFixed(3));
            onClose();
          }}
        >
          {word("save")}
        </button>
        <button onClick={onClose}>{word("close")}</button>
      </div>
    </div>
  );
}

/// The vamp with the place of this step lit; at true size if the screen's scale is known and wanted.
function Place({ reed, step, trueSize }: { reed: Reed; step: number; trueSize: boolean }) {
  const map = reed.map;
  const to_x = reed.data.vamp_mm + 1;
  const half = Math.max(...map.halfWidth_mm);
  const lit = reed.data.plan.steps[step];
  const box = { x: -half - 2, y: -1.6, width: 2 * half + 4, height: to_x + 4.9 };
  const scale = trueSize ? pxPerMm.value : null;
  const d = map.rim.map(([x, y], k) => `${k === 0 ? "M" : "L"}${y.toFixed(2)} ${x.toFixed(2)}`).join("") + "Z";
  return (
    <svg
      class={scale ? "place true-size" : "place"}
      viewBox={`${box.x} ${box.y} ${box.width} ${box.height}`}
      width={scale ? box.width * scale : undefined}
      height={scale ? box.height * scale : undefined}
      role="img"
      aria-label={`${lit ? whereWords(lit) : ""}. ${word("tipUp")}`}
    >
      <clipPath id="guide-extent">
        <rect x={box.x} y={box.y} width={box.width} height={to_x - box.y} />
      </clipPath>
      <g clip-path="url(#guide-extent)">
        <path d={d} fill="#ece2cc" stroke="currentColor" stroke-width="0.16" />
        <path d={`M0 0V${to_x}`} stroke="#1a1a1e" stroke-width="0.06" stroke-dasharray="0.5 0.35" />
        <StepPlaces steps={reed.data.plan.steps} lit={step} />
      </g>
      <g font-size="1.15" font-weight="700" fill="currentColor">
        <text x={-half} y="-0.45">
          {word("left")}
        </text>
        <text x={half} y="-0.45" text-anchor="end">
          {word("right")}
        </text>
      </g>
      <text x="0" y={to_x + 2.9} font-size="1.1" text-anchor="middle" fill="currentColor">
        {word("tipUp")}
      </text>
      <Axes from_y={-half} to_y={half} to_x={to_x} />
    </svg>
  );
}

export function Guide({ reed, onClose }: { reed: Reed; onClose: () => void }) {
  const plan = reed.data.plan;
  const key = guideKey(reed);
  const answers = useSignal<Answer[]>(answersFrom(kept(key)));
  const settingScale = useSignal(false);
  const trueSize = useSignal(pxPerMm.value !== null);
  const dialog = useRef<HTMLDialogElement>(null);
  const heading = useRef<HTMLHeadingElement>(null);
  const journey = { steps: plan.steps.length, needsRollingTest: plan.needs_rolling_test };
  const page: Page = pageAfter(answers.value, journey);
  const set = (next: Answer[]) => {
    answers.value = next;
    keep(key, next.length > 0 ? JSON.stringify(next) : null);
  };
  const answer = (a: Answer) => set([...answers.value, a]);
  useEffect(() => {
    dialog.current?.showModal();
  }, []);
  useEffect(() => heading.current?.focus(), [answers.value.length]);
  const undo = answers.value.length > 0 ? <button onClick={() => set(answers.value.slice(0, -1))}>{word("undo")}</button> : null;
  const steps = marks(answers.value, journey);
  const body = () => {
    switch (page.kind) {
      case "cautions":
        return (
          <>
            <h2 ref={heading} tabIndex={-1}>
              {word("beforeYouScrape")}
            </h2>
            <ul class="big-list">
              {reed.data.cautions.map((caution) => (
                <li key={caution.id}>{told([caution])}</li>
              ))}
              {reed.data.handedness_checked ? null : <li>{word("unchecked")}</li>}
            </ul>
            <div class="big-row">
              <button class="main" onClick={() => answer("read")}>
                {word("understood")}
              </button>
            </div>
          </>
        );
      case "rolling-test":
        return (
          <>
            <h2 ref={heading} tabIndex={-1}>
              {word("rollingTitle")}
            </h2>
            <p>{word("rollingText")}</p>
            <p>
              <strong>{word(plan.steps[0]?.side === "left" ? "side_left" : "side_right")}</strong>
            </p>
            <div class="big-row">
              <button class="main" onClick={() => answer("test-passed")}>
                {word("rollingYes")}
              </button>
              <button class="main" onClick={() => answer("test-failed")}>
                {word("rollingNo")}
              </button>
              {undo}
            </div>
          </>
        );
      case "take-nothing-off":
        return (
          <>
            <h2 ref={heading} tabIndex={-1}>
              {word("takeNothingOff")}
            </h2>
            <p>{word("rollingStop")}</p>
            <div class="big-row">
              <button class="main" onClick={() => dialog.current?.close()}>
                {word("close")}
              </button>
              {undo}
            </div>
          </>
        );
      case "step": {
        const step = plan.steps[page.step];
        if (!step) return null;
        return (
          <div class="step-page">
            <Place reed={reed} step={page.step} trueSize={trueSize.value} />
            <div>
              <h2 ref={heading} tabIndex={-1}>
                <span class="soft">
                  {word("step")} {page.step + 1} {word("of")} {plan.steps.length}
                </span>
                <br />
                {whereWords(step)}
              </h2>
              <p class="huge">
                {word("about")} {step.strokes} {word(step.strokes === 1 ? "stroke" : "strokes")}
              </p>
              <p>
                {lengthShown(step.depth_um)} {unitName(unit.value)} {word("depth")}.
              </p>
              <p class="stop">
                <strong>{word("whenToStop")}:</strong> {stopWords(step)}
              </p>
              <div class="big-row">
                <button class="main" onClick={() => answer("done")}>
                  {word("done")}
                </button>
                <button onClick={() => answer("stopped")}>{word(step.aim === "balance" ? "alike" : "softEnough")}</button>
                <button onClick={() => answer("skipped")}>{word("skip")}</button>
                {undo}
              </div>
              <div class="row">
                {pxPerMm.value === null ? null : (
                  <label class="check">
                    <input type="checkbox" checked={trueSize.value} onChange={(e) => (trueSize.value = e.currentTarget.checked)} /> {word("trueSize")}
                  </label>
                )}
                <button onClick={() => (settingScale.value = true)}>{word("setScale")}</button>
              </div>
            </div>
          </div>
        );
      }
      case "scan-again":
        return (
          <>
            <h2 ref={heading} tabIndex={-1}>
              {word("scanAgainTitle")}
            </h2>
            <p>{page.done > 0 ? word("scanAgain") : word("nothingDone")}</p>
            <div class="big-row">
              {undo}
              <button onClick={() => set([])}>{word("startOver")}</button>
              {page.done > 0 && isServed() ? (
                <a class="button main" href="/">
                  {word("dropNew")}
                </a>
              ) : null}
              <button class="main" onClick={() => dialog.current?.close()}>
                {word("close")}
              </button>
            </div>
          </>
        );
    }
  };
  return (
    <dialog class="guide" ref={dialog} aria-label={word("guide")} onClose={onClose} data-page={page.kind}>
      <div class="guide-top">
        <ol class="progress">
          {steps.map((mark, k) => (
            <li key={k} data-mark={mark ?? (page.kind === "step" && page.step === k ? "now" : "open")}>
              {k + 1}
              <span class="mark">{mark === "done" || mark === "stopped" ? "✓" : mark === "skipped" ? "–" : ""}</span>
              <span class="unseen">{mark === "done" || mark === "stopped" ? word("marked_done") : mark === "skipped" ? word("marked_skipped") : ""}</span>
            </li>
          ))}
        </ol>
        <button onClick={() => dialog.current?.close()}>{word("close")}</button>
      </div>
      {settingScale.value ? (
        <Card
          onClose={() => {
            settingScale.value = false;
            trueSize.value = pxPerMm.value !== null;
          }}
        />
      ) : (
        body()
      )}
    </dialog>
  );
}
