import { once } from "node:events";
import { UsageError } from "../../base/errors.ts";
import { audienceNamed } from "../../study/making/make-report.ts";
import { notebookSource } from "../../study/notebook/notebook-source.ts";
import { EXIT } from "../exit-codes.ts";
import { type RunCount, startWatching } from "../watch/start-watching.ts";
import { wrappedText } from "../wrapped-text.ts";

export interface WatchOptions {
  readonly audience: string;
  readonly export?: string;
  readonly port?: string;
}

/** Serves the report of a notebook on this machine until somebody stops it, and makes it again on every save. */
export async function watch(notebook: string, options: WatchOptions): Promise<number> {
  const audience = audienceNamed(options.audience);
  const what = { notebook, audience, port: portOf(options.port) };
  // Says at once that there is no such notebook.
  notebookSource(notebook);
  const named = options.export === undefined ? what : { ...what, export: options.export };
  const watching = await startWatching(named, (failed, count) => {
    console.log(wrappedText(runWords(notebook, failed, count), process.stdout.columns));
  });
  console.log(
    `${watching.url}  (${notebook}; for this machine alone; made again on every save; Ctrl-C ends it)`,
  );
  await Promise.race([once(process, "SIGINT"), once(process, "SIGTERM")]);
  watching.close();
  return EXIT.ok;
}

/** What happened to which notebook, for somebody who comes back to the terminal later. */
export function runWords(notebook: string, failed: string, { run, made }: RunCount): string {
  const start = `run ${run}, ${notebook}:`;
  if (failed === "") return `${start} ${made === 1 ? "report made" : "report made again"}`;
  const shown = made === 0 ? "there is no report yet" : "the browser still shows the report before it";
  return `${start} stopped by a fault; ${shown}\n${failed.replace(/^/gm, "  ")}`;
}

function portOf(text = "0"): number {
  if (/^\d+$/.test(text) && Number(text) <= 65_535) return Number(text);
  throw new UsageError("not-a-port", `--port: write a whole number up to 65535; received "${text}"`);
}
