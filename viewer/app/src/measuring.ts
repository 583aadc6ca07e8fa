// A scan on its way: sent, waiting, measured, refused. Events come from the server as they happen.
import { signal, type Signal } from "@preact/signals";

export type JobState = "uploading" | "waiting" | "measuring" | "done" | "refused" | "cancelled" | "lost";

export interface Job {
  file: string;
  state: JobState;
  /// Share of what goes on now, 0 to 1.
  fraction: number;
  /// The command's stage, or its own words why it refused.
  message: string;
  /// Folder of the result once it is done.
  result: string;
}

export interface Running {
  job: Signal<Job>;
  cancel: () => void;
}

export interface ScanOptions {
  state: string;
  rolling_test: string;
}

interface Event {
  state: JobState;
  fraction?: number;
  message?: string;
  result?: string;
}

/// What an event of the server makes of a job.
export function after(job: Job, event: Event): Job {
  return {
    ...job,
    state: event.state,
    fraction: event.fraction ?? (event.state === "done" ? 1 : job.fraction),
    message: event.message ?? "",
    result: event.result ?? job.result,
  };
}

export function isOver(state: JobState): boolean {
  return state === "done" || state === "refused" || state === "cancelled" || state === "lost";
}

export function measure(file: File, options: ScanOptions, token: string, whenOver: () => void): Running {
  const job = signal<Job>({ file: file.name, state: "uploading", fraction: 0, message: "", result: "" });
  const request = new XMLHttpRequest();
  let events: EventSource | null = null;
  let id = "";
  const end = (event: Event) => {
    events?.close();
    if (isOver(job.value.state)) return;
    job.value = after(job.value, event);
    whenOver();
  };
  const follow = () => {
    events = new EventSource(`/api/jobs/${id}/events`);
    events.onmessage = (message) => {
      const event = JSON.parse(message.data as string) as Event;
      if (isOver(event.state)) end(event);
      else job.value = after(job.value, event);
    };
    events.onerror = () => {
      if (events?.readyState === EventSource.CLOSED) end({ state: "lost" });
    };
  };
  const query = new URLSearchParams({ name: file.name, state: options.state, rolling_test: options.rolling_test });
  request.open("POST", `/api/scans?${query}`);
  request.setRequestHeader("X-Canewise-Token", token);
  request.setRequestHeader("Content-Type", "application/octet-stream");
  request.upload.onprogress = (e) => {
    if (e.lengthComputable) job.value = { ...job.value, fraction: e.loaded / e.total };
  };
  request.onload = () => {
    const answer = JSON.parse(request.responseText || "{}") as { id?: string; message?: string };
    if (request.status === 202 && answer.id) {
      id = answer.id;
      job.value = after(job.value, { state: "waiting", fraction: 0 });
      follow();
    } else {
      end({ state: "refused", message: answer.message ?? `HTTP ${request.status}` });
    }
  };
  request.onerror = () => end({ state: "lost" });
  request.onabort = () => end({ state: "cancelled" });
  request.send(file);
  return {
    job,
    cancel: () => {
      if (id === "") request.abort();
      else void fetch(`/api/jobs/${id}`, { method: "DELETE", headers: { "X-Canewise-Token": token } }).catch(() => end({ state: "lost" }));
    },
  };
}
