// The real server on a folder of its own, and pages of it.
import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { beforeEach, expect, inject } from "vitest";
import { type Opening, browserForTests } from "./pages";

export interface ServedPlace {
  folder: string;
  /// Ends in a slash.
  address: string;
  /// The address that lets in.
  entrance: string;
  server: ChildProcess;
}

/// `fill` puts into the folder what a test begins with; `serve` starts the server with these options.
export function served(fill: (folder: string) => void): {
  at: ServedPlace;
  serve: (...options: string[]) => Promise<void>;
  open: (address: string, how?: Opening) => Promise<Page>;
} {
  const at = { folder: "", address: "", entrance: "" } as ServedPlace;
  const serve = async (...options: string[]): Promise<void> => {
    at.server = spawn(inject("command"), ["serve", at.folder, ...options], { stdio: ["ignore", "pipe", "pipe"] });
    at.address = await new Promise((found, failed) => {
      let said = "";
      const hear = (bytes: Buffer) => {
        said += bytes.toString();
        const printed = /(?<home>http:\/\/[\d.]+:\d+\/)\?token=[0-9a-f]{64}/.exec(said);
        const home = printed?.groups?.home;
        if (!printed || !home || !said.includes("Ctrl-C")) return;
        at.entrance = printed[0];
        found(home);
      };
      at.server.stdout?.on("data", hear);
      at.server.stderr?.on("data", hear);
      at.server.on("exit", () => failed(new Error(said)));
    });
  };
  beforeEach(() => {
    at.folder = mkdtempSync(join(tmpdir(), "canewise-served-"));
    fill(at.folder);
  });
  const openPage = browserForTests(async () => {
    at.server.kill("SIGINT");
    if (at.server.exitCode === null) await new Promise((ended) => at.server.on("exit", ended));
    expect(at.server.exitCode).toBe(0);
    expect(readdirSync(at.folder).filter((name) => name.startsWith("."))).toEqual([]);
    rmSync(at.folder, { recursive: true, force: true });
  });
  return { at, serve, open: (address, how = {}) => openPage(address, { entrance: at.entrance, ...how }) };
}
