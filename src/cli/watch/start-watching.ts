import { notebookFiles } from "./notebook-files.ts";
import { type ChildMessage, runInChild, type WhatToRun } from "./run-in-child.ts";
import { type ReportServer, serve } from "./serve.ts";
import { watchFiles } from "./watch-files.ts";

/** A notebook that is being watched. */
export interface Watching {
  readonly url: string;
  close(): void;
}

/** Runs so far, and how many of them made a report; one that a later save cut short counts too. */
export interface RunCount {
  readonly run: number;
  readonly made: number;
}

/**
 * Serves the report of a notebook on this machine and makes it again whenever the notebook, what it imports, its lock or
 * its export is saved. Nothing is written anywhere.
 *
 * @param ended hears why a run failed, or an empty text where it did not, and which run of how many that made a report it was.
 */
export async function startWatching(
  what: WhatToRun & { readonly port: number },
  ended: (failed: string, count: RunCount) => void,
): Promise<Watching> {
  const server = await serve(what.port);
  let exportFolders: readonly string[] = [];
  let [runs, made] = [0, 0];
  let failed = "";
  let stopRun = () => {};
  let stopWatching = () => {};

  const watchAnew = () => {
    stopWatching();
    stopWatching = watchFiles(notebookFiles(what.notebook), exportFolders, run);
  };
  const told = (message: ChildMessage) => {
    if (message.kind === "reads") {
      if (exportFolders.join("\n") === message.folders.join("\n")) return;
      exportFolders = message.folders;
      return watchAnew();
    }
    failed = message.kind === "failed" ? message.words : "";
    if (message.kind === "made") {
      made += 1;
      server.show(new Map(message.files));
    }
    server.tell({ run: made, words: stateWords(made, failed), failed });
    ended(failed, { run: runs, made });
  };
  function run(): void {
    runs += 1;
    stopRun();
    // What is imported may have changed with the notebook.
    watchAnew();
    server.tell({ run: made, words: "The report is being made.", failed });
    stopRun = runInChild(what, told);
  }
  run();
  return closing(server, () => {
    stopRun();
    stopWatching();
  });
}

function stateWords(made: number, failed: string): string {
  if (failed === "")
    return `Made ${made === 1 ? "once" : `${made} times`}; it is made again when a file is saved.`;
  return made === 0
    ? "No report could be made yet."
    : "The last run failed. Below stands the report of the run before it.";
}

function closing(server: ReportServer, stop: () => void): Watching {
  return {
    url: server.url,
    close() {
      stop();
      server.close();
    },
  };
}
