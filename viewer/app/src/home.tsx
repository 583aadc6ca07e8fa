// The server's first page: the reeds there are, and a place to drop another.
import { useEffect } from "preact/hooks";
import { signal, useSignal } from "@preact/signals";
import { isWord } from "./catalogue";
import type { Message } from "./speech";
import { type Running, isOver, measure, startNext } from "./measuring";
import { keep, kept, language, told, word } from "./state";

interface Entry {
  name: string;
  /// As filed in the ledger; empty where nobody said.
  label: string;
  box: string;
  player: string;
  headline: Message[];
  measured_at: string;
  state: string;
}

/// As the reader writes dates; what is no date stays as it is.
function when(entry: Entry): string {
  const date = new Date(entry.measured_at);
  const text = Number.isNaN(date.getTime()) ? entry.measured_at : date.toLocaleString(language.value, { dateStyle: "medium", timeStyle: "short" });
  const state = `state_${entry.state}`;
  return isWord(state) ? `${text}, ${word(state)}` : text;
}

/// What a reed is called: by its label, else by its folder.
const titleOf = (entry: Entry): string => entry.label || entry.name;
const whoseOf = (entry: Entry): string => [entry.label ? entry.name : "", entry.box, entry.player].filter(Boolean).join(", ");

const orders = ["newest", "label"] as const;
type Order = (typeof orders)[number];

/// Those that hold all the words looked for, in the order asked for.
function shown(all: readonly Entry[], find: string, order: Order): Entry[] {
  const words = find.toLocaleLowerCase().split(/\s+/).filter(Boolean);
  const holds = (entry: Entry) => {
    const text = [entry.name, entry.label, entry.box, entry.player, when(entry), told(entry.headline)].join(" ").toLocaleLowerCase();
    return words.every((w) => text.includes(w));
  };
  const found = words.length > 0 ? all.filter(holds) : [...all];
  const byLabel = (a: Entry, b: Entry) =>
    titleOf(a).localeCompare(titleOf(b), undefined, { numeric: true }) || b.measured_at.localeCompare(a.measured_at);
  return order === "label" ? found.sort(byLabel) : found;
}

const entries = signal<Entry[] | null>(null);
const running = signal<Running[]>([]);
const lost = signal(false);
const folderDropped = signal(false);
/// As many as the server measures at once.
const atOnce = 2;

async function refresh(): Promise<void> {
  try {
    const answer = await fetch("/api/results");
    const { results, more } = (await answer.json()) as { results: Entry[]; more: boolean };
    if (results.length > 0 || !more) entries.value = results;
    lost.value = false;
    // Of a large folder the server lists what it has read so far.
    if (more) setTimeout(() => void refresh(), 500);
  } catch {
    lost.value = true;
  }
}

/// The line begins with the file's name already.
function withoutFile(message: Message, file: string): Message {
  const { file: of, what } = message;
  const isOfIt = message.id === "in_file" && typeof of === "object" && "text" in of && of.text === file;
  return (isOfIt && Array.isArray(what) ? what[0] : undefined) ?? message;
}

function JobLine({ running: r }: { running: Running }) {
  const job = r.job.value;
  const words =
    job.state === "uploading" || job.state === "waiting" || job.state === "cancelled" || job.state === "lost"
      ? word(job.state)
      : job.state === "done"
        ? word("finished")
        : job.message
          ? told([withoutFile(job.message, job.file)])
          : "";
  return (
    <li class="job" data-state={job.state}>
      <p>
        <strong>{job.file}</strong> <span aria-live="polite" >{words}</span>
      </p>
      {isOver(job.state) ? null : <progress max="1" value={job.fraction} aria-label={`${job.file}: ${words}`} />}
      <div class="row">
        {job.state === "done" ? (
          <a class="button main" href={`/reed/${encodeURIComponent(job.result)}/`}>
            {word("open")}
          </a>
        ) : null}
        {isOver(job.state) ? (
          <button onClick={() => (running.value = running.value.filter((other) => other !== r))}>{word("dismiss")}</button>
        ) : (
          <button onClick={r.cancel}>{word("cancel")}</button>
        )}
      </div>
    </li>
  );
}

function comparisonOf(before: Entry | undefined, after: Entry | undefined): string {
  return `/compare?${new URLSearchParams({ before: before?.name ?? "", after: after?.name ?? "" })}`;
}

export function Home({ token }: { token: string }) {
  const options = useSignal({ state: kept("state") ?? "unknown", rolling_test: "not-done", reed: "" });
  const over = useSignal(false);
  const marked = useSignal<string[]>([]);
  const find = useSignal("");
  const order = useSignal<Order>("newest");
  const send = (files: Iterable<File>) => {
    const whenOver = () => {
      startNext(running.value, atOnce);
      void refresh();
    };
    running.value = [...running.value, ...Array.from(files, (file) => measure(file, options.value, token, whenOver))];
    startNext(running.value, atOnce);
  };
  useEffect(() => {
    void refresh();
    // The whole page takes a drop: beside the box the browser would open the file and leave.
    const drag = (event: DragEvent) => {
      event.preventDefault();
      over.value = event.type === "dragover";
    };
    const drop = (event: DragEvent) => {
      event.preventDefault();
      over.value = false;
      const items = [...(event.dataTransfer?.items ?? [])];
      folderDropped.value = items.some((item) => item.webkitGetAsEntry()?.isDirectory);
      send(items.flatMap((item) => (item.kind !== "file" || item.webkitGetAsEntry()?.isDirectory ? [] : (item.getAsFile() ?? []))));
    };
    window.addEventListener("dragover", drag);
    window.addEventListener("dragleave", drag);
    window.addEventListener("drop", drop);
    return () => {
      window.removeEventListener("dragover", drag);
      window.removeEventListener("dragleave", drag);
      window.removeEventListener("drop", drop);
    };
  }, []);
  const listed = shown(entries.value ?? [], find.value, order.value);
  // Of two marked reeds the one measured first is the one before.
  const pair = (entries.value ?? []).filter((e) => marked.value.includes(e.name)).sort((a, b) => a.measured_at.localeCompare(b.measured_at));
  return (
    <>
      <h1>{word("homeTitle")}</h1>
      <p>
        <a href="/season">{word("season")}</a>
      </p>
      <div class={over.value ? "drop over" : "drop"}>
        <div class="row">
          <label>
            {word("moisture")}
            <select value={options.value.state} onChange={(e) => {
                options.value = { ...options.value, state: e.currentTarget.value };
                keep("state", e.currentTarget.value);
              }}>
              {(["unknown", "dry", "wet"] as const).map((s) => (
                <option key={s} value={s}>
                  {word(`state_${s}`)}
                </option>
              ))}
            </select>
          </label>
          <label>
            {word("rolling")}
            <select value={options.value.rolling_test} onChange={(e) => (options.value = { ...options.value, rolling_test: e.currentTarget.value })}>
              {(["not-done", "left", "right", "even"] as const).map((s) => (
                <option key={s} value={s}>
                  {word(`rolling_${s}`)}
                </option>
              ))}
            </select>
          </label>
          <label>
            {word("whichReed")}{" "}
            <input
              type="text"
              size={8}
              maxLength={40}
              placeholder="B3-7"
              value={options.value.reed}
              onInput={(e) => (options.value = { ...options.value, reed: e.currentTarget.value.trim() })}
            />
          </label>
        </div>
        <label class="button main">
          {word("drop")}
          <input
            class="unseen"
            type="file"
            multiple
            onChange={(e) => {
              send(e.currentTarget.files ?? []);
              e.currentTarget.value = "";
            }}
          />
        </label>
        <p class="soft">{word("dropHint")}</p>
      </div>
      <ul class="jobs">
        {running.value.map((r, k) => (
          <JobLine key={k} running={r} />
        ))}
      </ul>
      {folderDropped.value ? <p role="alert">{word("noFolders")}</p> : null}
      {lost.value ? <p role="alert">{word("lost")}</p> : null}
      {entries.value?.length === 0 ? <p>{word("none")}</p> : null}
      {pair.length === 2 ? (
        <>
          <p class="row">
            <a class="button main" href={comparisonOf(pair[0], pair[1])}>
              {word("compareTwo")}
            </a>
            <a class="button" href={comparisonOf(pair[1], pair[0])}>
              {word("otherWay")}
            </a>
          </p>
          <p class="soft">
            {word("before")}: {pair[0]?.name}; {word("after")}: {pair[1]?.name}
          </p>
        </>
      ) : (entries.value?.length ?? 0) > 1 ? (
        <p class="soft">{word("compareHint")}</p>
      ) : null}
      {(entries.value?.length ?? 0) > 1 ? (
        <div class="row">
          <label>
            {word("find")} <input type="search" value={find.value} onInput={(e) => (find.value = e.currentTarget.value)} />
          </label>
          <label>
            {word("order")}{" "}
            <select value={order.value} onChange={(e) => (order.value = orders.find((o) => o === e.currentTarget.value) ?? "newest")}>
              {orders.map((o) => (
                <option key={o} value={o}>
                  {word(`order_${o}`)}
                </option>
              ))}
            </select>
          </label>
        </div>
      ) : null}
      {(entries.value?.length ?? 0) > 0 && listed.length === 0 ? <p role="status">{word("nothingFound")}</p> : null}
      <ul class="reeds">
        {listed.map((entry) => (
          <li key={entry.name}>
            <a href={`/reed/${encodeURIComponent(entry.name)}/`}>
              <span class="small-picture">
                <img src={`/reed/${encodeURIComponent(entry.name)}/balance.png`} alt="" loading="lazy" />
              </span>
              <strong>{titleOf(entry)}</strong>
              {whoseOf(entry) ? <span>{whoseOf(entry)}</span> : null}
              <span>{when(entry)}</span>
              <span>{told(entry.headline)}</span>
            </a>
            <label class="check">
              <input
                type="checkbox"
                checked={marked.value.includes(entry.name)}
                disabled={marked.value.length >= 2 && !marked.value.includes(entry.name)}
                onChange={(e) =>
                  (marked.value = e.currentTarget.checked ? [...marked.value, entry.name] : marked.value.filter((n) => n !== entry.name))
                }
              />{" "}
              {word("mark")} <span class="unseen">{titleOf(entry)}</span>
            </label>
          </li>
        ))}
      </ul>
    </>
  );
}
