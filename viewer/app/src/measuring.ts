// A scan on its way: sent, waiting, measured, refused. Events come from the server as they happen.
import { signal, type Signal } from "@preact/signals";
import type { Message } from "./speech";

export type JobState = "uploading" | "waiting" | "measuring" | "done" | "refused" | "cancelled" | "lost";

export interface Job {
  file: string;
  state: JobState;
  /// Share of what goes on now, 0 to 1.
  fraction: number;
  /// The command's stage, or why it refused.
  message: Message | null;
  /// Folder of the result once it is done.
  result: string;
}

export interface Running {
  job: Signal<Job>;
  /// Not before its turn: every scan on its way holds one of the few connections that a browser has to a server.
  start: () => void;
  started: boolean;
  cancel: () => void;
}

/// Starts the next ones, so that never more than `atOnce` are on their way.
export function startNext(all: readonly Running[], atOnce: number): void {
  let busy = all.filter((r) => r.started && !isOver(r.job.value.state)).length;
  for (const one of all) {
    if (busy >= atOnce) return;
    if (one.started || isOver(one.job.value.state)) continue;
    one.start();
    busy++;
  }
}

export interface ScanOptions {
  state: string;
  rolling_test: string;
  /// The reed's label in the ledger; empty files it nowhere.
  reed: string;
}

interface Event {
  state: JobState;
  fraction?: number;
  message?: Message;
  result?: string;
}

/// What an event of the server makes of a job.
export function after(job: Job, event: Event): Job {
  return {
    ...job,
    state: event.state,
    fraction: event.fraction ?? (event.state === "done" ? 1 : job.fraction),
    message: event.message ?? null,
    result: event.result ?? job.result,
  };
}

export function isOver(state: JobState): boolean {
  return state === "done" || state === "refused" || state === "cancelled" || state === "lost";
}

/// Waits for a connection that is gone to come back, and calls `lost` once it has been gone for so long. A page that
/// slept, as on a phone in a pocket, wakes up with its time over: it gets its time anew.
export class Patience {
  private timer = 0;

  constructor(
    private readonly wait_ms: number,
    private readonly lost: () => void,
  ) {}

  gone(): void {
    if (this.timer !== 0) return;
    const since = Date.now();
    this.timer = window.setTimeout(() => {
      this.timer = 0;
      const slept_ms = Date.now() - since - this.wait_ms;
      if (slept_ms > 0.5 * this.wait_ms) this.gone();
      else this.lost();
    }, this.wait_ms);
  }

  back(): void {
    window.clearTimeout(this.timer);
    this.timer = 0;
  }
}

export function measure(file: File, options: ScanOptions, token: string, whenOver: () => void): Running {
  const job = signal<Job>({ file: file.name, state: "waiting", fraction: 0, message: null, result: "" });
  const request = new XMLHttpRequest();
  // A connection that is gone is tried again by the browser itself; after so long it will not come back.
  const patience = new Patience(8000, () => end({ state: "lost" }));
  let events: EventSource | null = null;
  let id = "";
  const end = (event: Event) => {
    patience.back();
    events?.close();
    if (isOver(job.value.state)) return;
    job.value = after(job.value, event);
    whenOver();
  };
  const follow = () => {
    events = new EventSource(`/api/jobs/${id}/events`);
    events.onopen = () => patience.back();
    events.onmessage = (message) => {
      const event = JSON.parse(message.data as string) as Event;
      if (isOver(event.state)) end(event);
      else job.value = after(job.value, event);
    };
    events.onerror = () => {
      if (events?.readyState === EventSource.CLOSED) end({ state: "lost" });
      else patience.gone();
    };
  };
  const query = new URLSearchParams({ name: file.name, state: options.state, rolling_test: options.rolling_test, reed: options.reed });
  request.open("POST", `/api/scans?${query}`);
  request.setRequestHeader("X-Canewise-Token", token);
  request.setRequestHeader("Content-Type", "application/octet-stream");
  request.upload.onprogress = (e) => {
    if (e.lengthComputable) job.value = { ...job.value, fraction: e.loaded / e.total };
  };
  request.onload = () => {
    const answer = JSON.parse(request.responseText || "{}") as { id?: string; message?: Message };
    if (request.status === 202 && answer.id) {
      id = answer.id;
      job.value = after(job.value, { state: "waiting", fraction: 0 });
      follow();
    } else {
      end({ state: "refused", message: answer.message ?? { id: "verbatim", text: { text: `HTTP ${request.status}` } } });
    }
  };
  request.onerror = () => end({ state: "lost" });
  request.onabort = () => end({ state: "cancelled" });
  const cancelThere = async () => {
    const answer = await fetch(`/api/jobs/${id}`, { method: "DELETE", headers: { "X-Canewise-Token": token } }).catch(() => null);
    if (!answer?.ok) end({ state: "lost" });
  };
  const running: Running = {
    job,
    started: false,
    start: () => {
      running.started = true;
      job.value = after(job.value, { state: "uploading", fraction: 0 });
      request.send(file);
    },
    cancel: () => {
      if (!running.started) end({ state: "cancelled" });
      else if (id === "") request.abort();
      else void cancelThere();
    },
  };
  return running;
}
