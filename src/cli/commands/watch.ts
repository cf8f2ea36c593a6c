import { once } from "node:events";
import { UsageError } from "../../base/errors.ts";
import { audienceNamed } from "../../study/making/make-report.ts";
import { notebookSource } from "../../study/notebook/notebook-source.ts";
import { EXIT } from "../exit-codes.ts";
import { startWatching } from "../watch/start-watching.ts";

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
  const watching = await startWatching(named, (failed) => {
    console.log(failed === "" ? "made" : failed);
  });
  console.log(`${watching.url}  (this machine alone; Ctrl-C ends it)`);
  await Promise.race([once(process, "SIGINT"), once(process, "SIGTERM")]);
  watching.close();
  return EXIT.ok;
}

function portOf(text = "0"): number {
  if (/^\d+$/.test(text) && Number(text) <= 65_535) return Number(text);
  throw new UsageError("not-a-port", `--port: write a whole number up to 65535; received "${text}"`);
}
