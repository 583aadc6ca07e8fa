// The box of reeds that 'canewise demo' invents, made once for all browser tests.
import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { TestProject } from "vitest/node";

declare module "vitest" {
  export interface ProvidedContext {
    command: string;
    box: string;
  }
}

export default function setup(project: TestProject): () => void {
  const command = process.env.CANEWISE_COMMAND ?? fileURLToPath(new URL("../../../../build/bin/canewise", import.meta.url));
  if (!existsSync(command)) throw new Error(`${command}: is not there. Build it with './dev build', or name another in CANEWISE_COMMAND.`);
  const box = mkdtempSync(join(tmpdir(), "canewise-box-"));
  execFileSync(command, ["demo", "--out", box]);
  project.provide("command", command);
  project.provide("box", box);
  return () => rmSync(box, { recursive: true, force: true });
}
