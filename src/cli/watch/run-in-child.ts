import { fork } from "node:child_process";
import { fileURLToPath } from "node:url";

const CHILD = fileURLToPath(new URL("make-in-child.js", import.meta.url));

/** What a run tells while it goes on: where its export lies, then its report or why there is none. */
export type ChildMessage =
  | { readonly kind: "reads"; readonly folders: readonly string[] }
  | { readonly kind: "made"; readonly files: readonly (readonly [string, string])[] }
  | { readonly kind: "failed"; readonly words: string };

export interface WhatToRun {
  readonly notebook: string;
  readonly audience: string;
  readonly export?: string;
}

/** Makes a report in a process of its own, and hands back a way to stop it. It always ends with "made" or "failed". */
export function runInChild(what: WhatToRun, told: (message: ChildMessage) => void): () => void {
  const { notebook, audience, export: other } = what;
  const child = fork(CHILD, other === undefined ? [notebook, audience] : [notebook, audience, other], {
    execArgv: [],
    serialization: "advanced",
    stdio: ["ignore", "ignore", "inherit", "ipc"],
  });
  let ended = false;
  const tell = (message: ChildMessage) => {
    if (ended) return;
    ended = message.kind !== "reads";
    told(message);
  };
  // Only child.ts sends anything.
  child.on("message", (message) => tell(message as ChildMessage));
  child.on("error", (error) =>
    tell({ kind: "failed", words: `The run could not be started: ${error.message}` }),
  );
  child.on("exit", () =>
    tell({ kind: "failed", words: "The run ended without a report; save the notebook again." }),
  );
  return () => {
    ended = true;
    child.kill();
  };
}
