// On the server's page of a reed that the ledger knows: how it played, in three taps, and what it is kept for.
import { useSignal } from "@preact/signals";
import type { Word } from "./catalogue";
import type { Message } from "./speech";
import { told, word } from "./state";

const marks = ["response", "evenness", "tone"] as const;
type Mark = (typeof marks)[number];
const scale = [1, 2, 3, 4, 5] as const;
const stages = ["new", "breaking in", "playing", "concert", "resting", "retired"] as const;
const stageWord = (stage: string): Word => `stage_${stage.replace(" ", "_")}` as Word;

type Keeping = { state: "open" | "asking" } | { state: "kept"; said: Message[] } | { state: "failed"; why: Message | null };

/// Sends columns to be noted; what the server says of them.
async function note(path: string, columns: Record<string, string>, token: string): Promise<Keeping> {
  const answer = await fetch(`${path}?${new URLSearchParams(columns)}`, { method: "POST", headers: { "X-Canewise-Token": token } }).catch(() => null);
  const body = (await answer?.json().catch(() => null)) as { said?: Message[]; message?: Message } | null;
  return answer?.ok ? { state: "kept", said: body?.said ?? [] } : { state: "failed", why: body?.message ?? null };
}

function Outcome({ keeping }: { keeping: Keeping }) {
  if (keeping.state === "kept")
    return (
      <p role="status">
        {word("trialKept")} {told(keeping.said)}
      </p>
    );
  if (keeping.state === "failed") return <p role="alert">{keeping.why ? told([keeping.why]) : word("lost")}</p>;
  return null;
}

function MarkRow({ mark, value, choose }: { mark: Mark; value: number | undefined; choose: (value: number) => void }) {
  return (
    <fieldset class="marks">
      <legend>{word(mark)}</legend>
      {scale.map((n) => (
        <label key={n} class={value === n ? "mark chosen" : "mark"}>
          <input class="unseen" type="radio" name={mark} checked={value === n} onChange={() => choose(n)} />
          {n}
        </label>
      ))}
    </fieldset>
  );
}

function Choice({ name, values, columns, set }: { name: Word; values: readonly [string, string][]; columns: Record<string, string>; set: (value: string) => void }) {
  return (
    <label class="wide">
      {word(name)}
      <select value={columns[name] ?? ""} onChange={(e) => set(e.currentTarget.value)}>
        <option value=""></option>
        {values.map(([value, text]) => (
          <option key={value} value={value}>
            {text}
          </option>
        ))}
      </select>
    </label>
  );
}

const numbers = scale.map((n) => [String(n), String(n)] as [string, string]);

export function Trial({ reed, token, stage, isKeeper }: { reed: string; token: string; stage: string; isKeeper: boolean }) {
  const columns = useSignal<Record<string, string>>({});
  const keeping = useSignal<Keeping>({ state: "open" });
  const changing = useSignal<Keeping>({ state: "open" });
  const now = useSignal({ stage, isKeeper });
  const set = (name: string) => (value: string | number) => {
    columns.value = { ...columns.value, [name]: String(value) };
    keeping.value = { state: "open" };
  };
  const complete = marks.every((mark) => columns.value[mark]);
  const keep = async () => {
    keeping.value = { state: "asking" };
    keeping.value = await note("/api/trial", { reed, ...columns.value }, token);
    if (keeping.value.state === "kept") columns.value = {};
  };
  const change = async (next: { stage: string; isKeeper: boolean }) => {
    const before = now.value;
    now.value = next;
    changing.value = await note("/api/reed", { label: reed, stage: next.stage, is_keeper: next.isKeeper ? "yes" : "no" }, token);
    if (changing.value.state === "failed") now.value = before;
  };
  return (
    <>
      <h3>{word("trialTitle")}</h3>
      <div class="row">
        {marks.map((mark) => (
          <MarkRow key={mark} mark={mark} value={columns.value[mark] ? Number(columns.value[mark]) : undefined} choose={set(mark)} />
        ))}
      </div>
      <p class="soft">{word("trialScale")}</p>
      <details>
        <summary>{word("trialMore")}</summary>
        <Choice
          name="high_register"
          values={[
            ["holds", word("high_holds")],
            ["drops", word("high_drops")],
            ["flat", word("high_flat")],
          ]}
          columns={columns.value}
          set={set("high_register")}
        />
        <Choice name="airiness" values={numbers} columns={columns.value} set={set("airiness")} />
        <Choice name="resistance" values={numbers} columns={columns.value} set={set("resistance")} />
        <Choice
          name="freer_side"
          values={[
            ["left", word("side_left")],
            ["right", word("side_right")],
            ["alike", word("side_alike")],
          ]}
          columns={columns.value}
          set={set("freer_side")}
        />
        <label class="wide">
          {word("trialWords")}
          <input type="text" maxLength={400} value={columns.value.words ?? ""} onInput={(e) => set("words")(e.currentTarget.value)} />
        </label>
      </details>
      <p>
        <button class="main" disabled={!complete || keeping.value.state === "asking"} onClick={() => void keep()}>
          {word("keepTrial")}
        </button>
      </p>
      <Outcome keeping={keeping.value} />
      <div class="row">
        <label>
          {word("stage")}{" "}
          <select value={now.value.stage} onChange={(e) => void change({ ...now.value, stage: e.currentTarget.value })}>
            {stages.map((s) => (
              <option key={s} value={s}>
                {word(stageWord(s))}
              </option>
            ))}
          </select>
        </label>
        <label class="check">
          <input type="checkbox" checked={now.value.isKeeper} onChange={(e) => void change({ ...now.value, isKeeper: e.currentTarget.checked })} /> {word("keeper")}
        </label>
      </div>
      <Outcome keeping={changing.value} />
    </>
  );
}
