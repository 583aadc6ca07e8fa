import { render } from "preact";
import { effect, signal } from "@preact/signals";
import "./page.css";
import { BarsChart, ClosingChart, ComplianceChart } from "./charts";
import type { PageData } from "./data";
import { Guide, guideKey } from "./guide";
import { answersFrom } from "./guide_progress";
import { Hand } from "./hand";
import { Home } from "./home";
import { ReaderTools } from "./reader_tools";
import { Reed, kept, language, word } from "./state";
import { Steps } from "./steps";
import { Trial } from "./trial";
import { Viewer } from "./viewer";
import { followReader } from "./said_page";

const guideIsOpen = signal(false);

function GuideButton({ reed }: { reed: Reed }) {
  if (reed.data.plan.steps.length === 0) return null;
  const answers = answersFrom(kept(guideKey(reed)));
  return (
    <>
      <button class="main guide-button" onClick={() => (guideIsOpen.value = true)}>
        {word(guideIsOpen.value || answers.length === 0 ? "guide" : answers.includes("test-failed") ? "vetoed" : "resume")}
      </button>
      {guideIsOpen.value ? <Guide reed={reed} onClose={() => (guideIsOpen.value = false)} /> : null}
    </>
  );
}

function mount(id: string, content: preact.ComponentChild): void {
  const place = document.getElementById(id);
  if (!place) return;
  place.classList.add("app");
  effect(() => {
    place.lang = language.value;
  });
  place.replaceChildren();
  render(content, place);
}

const home = document.getElementById("home");
followReader(document.body);
if (home) mount("home", <Home token={home.dataset.token ?? ""} />);
const text = document.getElementById("reed-data")?.textContent;
if (text) {
  const reed = new Reed(JSON.parse(text) as PageData);
  mount("viewer", <Viewer reed={reed} />);
  mount("guide", <GuideButton reed={reed} />);
  mount("steps", <Steps reed={reed} />);
  const hand = document.getElementById("hand");
  if (hand) mount("hand", <Hand reed={reed} token={hand.dataset.token ?? ""} known={hand.dataset.known === "1"} />);
  mount("bars", <BarsChart reed={reed} />);
  mount("closing", <ClosingChart reed={reed} />);
  mount("compliance", <ComplianceChart reed={reed} />);
}
const trial = document.getElementById("trial");
if (trial?.dataset.token)
  mount(
    "trial",
    <Trial
      reed={trial.dataset.reed ?? ""}
      token={trial.dataset.token}
      stage={trial.dataset.stage ?? "new"}
      isKeeper={trial.dataset.keeper === "1"}
    />,
  );
document.body.insertAdjacentHTML("afterbegin", '<header id="reader"></header>');
mount("reader", <ReaderTools />);
document.documentElement.dataset.ready = "yes";
