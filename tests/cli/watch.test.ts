import { fork } from "node:child_process";
import { once } from "node:events";
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { contentHash } from "../../src/base/content-hash.ts";
import { runWords, watch } from "../../src/cli/commands/watch.ts";
import { FRAME_PAGE, FRAME_POLICY } from "../../src/cli/watch/frame-page.ts";
import { notebookFiles } from "../../src/cli/watch/notebook-files.ts";
import { type ChildMessage, runInChild } from "../../src/cli/watch/run-in-child.ts";
import { serve } from "../../src/cli/watch/serve.ts";
import { startWatching, type Watching } from "../../src/cli/watch/start-watching.ts";
import { saidBy, smallProject } from "./small-project.ts";

const { folder, notebook } = smallProject();
const open: { close(): void }[] = [];
afterAll(() => {
  for (const one of open) one.close();
});

/** A report that costs no statistics: the words of a file beside the notebook. */
const NOTEBOOK = `import { defineReport } from "mantle-outcomes";
import { words } from "./parts/words.ts";

export default defineReport({
  id: "small",
  title: words,
  subtitle: "",
  exhibits: () => [],
  sections: () => [],
});
`;

describe("mantle watch", () => {
  it("serves the report, makes it again when an import is saved, shows errors, and leaves no file", async () => {
    const path = join(folder, "watched.ts");
    mkdirSync(join(folder, "parts"));
    const part = join(folder, "parts/words.ts");
    writeFileSync(path, NOTEBOOK);
    writeFileSync(part, 'export const words = "First words";\n');
    const before = readdirSync(folder, { recursive: true });
    const runs = endings();
    const watching = await startWatching({ notebook: path, audience: "committee", port: 0 }, runs.ended);
    open.push(watching);
    expect(await runs.next()).toBe("");
    expect(await text(watching, "report/index.html")).toContain("First words");
    writeFileSync(part, 'export const words = "Second words";\n');
    expect(await runs.next()).toBe("");
    expect(await text(watching, "report/index.html")).toContain("Second words");
    writeFileSync(part, "export const words = ;\n");
    expect(await runs.next()).toMatch(/words\.ts.*Unexpected/);
    const told = JSON.parse((await firstEvent(watching)).replace(/^data: /, ""));
    expect(told).toMatchObject({ run: 2, failed: expect.stringMatching(/Unexpected/) });
    expect(await text(watching, "report/index.html")).toContain("Second words");
    expect(readdirSync(folder, { recursive: true })).toEqual(before);
    watching.close();
    await expect(fetch(watching.url)).rejects.toThrow();
  });

  it("ends when somebody stops it", async () => {
    const path = join(folder, "stopped.ts");
    writeFileSync(path, NOTEBOOK);
    const running = saidBy(() => watch(path, { audience: "committee" }));
    while (process.listenerCount("SIGINT") === 0) await new Promise((resolve) => setTimeout(resolve, 10));
    process.emit("SIGINT");
    const { code, said } = await running;
    expect(code).toBe(0);
    expect(said).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/[\w-]{22}\/ /);
  });

  it.each([
    ["a port that is none", { port: "many" }, /--port: write a whole number/],
    ["an audience nobody knows", { audience: "all" }, /--audience/],
    ["a notebook that is not there", {}, /none\.ts: cannot be read/],
  ])("refuses %s", async (_what, options, words) => {
    await expect(watch("none.ts", { audience: "committee", ...options })).rejects.toThrow(words);
  });
});

describe("runWords()", () => {
  it("names the run, the notebook, what happened and what is shown meanwhile", () => {
    const of = (failed: string, run: number, made: number) =>
      runWords("notebooks/a.ts", failed, { run, made });
    expect(of("", 1, 1)).toBe("run 1, notebooks/a.ts: report made");
    expect(of("", 3, 2)).toBe("run 3, notebooks/a.ts: report made again");
    expect(of("a.ts, line 2: x\ny", 1, 0)).toBe(
      "run 1, notebooks/a.ts: stopped by a fault; there is no report yet\n  a.ts, line 2: x\n  y",
    );
    expect(of("x", 4, 2)).toMatch(
      /^run 4, .*: stopped by a fault; the browser still shows the report before it\n {2}x$/,
    );
  });
});

describe("the process of a run", () => {
  it("tells every folder that holds a table of the export, before it reads one", async () => {
    mkdirSync(join(folder, "elsewhere/tables"), { recursive: true });
    const descriptor = JSON.parse(readFileSync(join(folder, "datapackage.json"), "utf8"));
    descriptor.resources[0].path = ["tables/one.csv", "two.csv"];
    writeFileSync(join(folder, "elsewhere/datapackage.json"), JSON.stringify(descriptor));
    const path = notebook("two-folders.ts", { export: "elsewhere/datapackage.json" });
    const messages: ChildMessage[] = [];
    await new Promise<void>((ended) => {
      runInChild({ notebook: path, audience: "committee" }, (message) => {
        messages.push(message);
        if (message.kind !== "reads") ended();
      });
    });
    expect(messages).toEqual([
      { kind: "reads", folders: [join(folder, "elsewhere"), join(folder, "elsewhere/tables")] },
      { kind: "failed", words: expect.stringMatching(/names the table "tables\/one\.csv", but there is no/) },
    ]);
  });

  it("ends without a fault where the command has ended before it", async () => {
    const path = join(folder, "left-alone.ts");
    writeFileSync(path, NOTEBOOK);
    const child = fork(
      join(import.meta.dirname, "../../src/cli/watch/make-in-child.js"),
      [path, "committee"],
      {
        execArgv: [],
        serialization: "advanced",
        stdio: ["ignore", "ignore", "pipe", "ipc"],
      },
    );
    child.disconnect();
    let faults = "";
    child.stderr?.on("data", (text) => {
      faults += text;
    });
    const [code] = await once(child, "exit");
    expect([code, faults]).toEqual([0, ""]);
  });
});

describe("serve()", () => {
  it("answers this machine alone, and only to read", async () => {
    const server = await serve(0);
    open.push(server);
    const { hostname, port, pathname } = new URL(server.url);
    expect(hostname).toBe("127.0.0.1");
    expect((await fetch(server.url)).status).toBe(200);
    expect((await fetch(server.url, { method: "POST" })).status).toBe(405);
    expect(await statusFor(server.url, pathname, "elsewhere.example:80")).toBe(403);
    await expect(serve(Number(port))).rejects.toThrow(new RegExp(`--port: ${port} is taken`));
  });

  it.each([
    "",
    "/",
    "//",
    "/report/index.html",
    "/told",
    "SECRET",
    "SECRETx/",
    "SECRET//",
    "SECRET/index.html",
    "SECRET/report/../../package.json",
    "SECRET/report/..%2findex.html",
    "SECRET/../report/index.html",
    "/..SECRET/report/index.html",
    "http://",
    "http://127.0.0.1/SECRET/report/index.html",
  ])("has nothing at %j, and goes on", async (asked) => {
    const server = await serve(0);
    open.push(server);
    server.show(new Map([["index.html", "the report"]]));
    const secret = new URL(server.url).pathname.slice(0, -1);
    // By hand: fetch would tidy the path.
    expect(await statusFor(server.url, asked.replace("SECRET", secret))).toBe(404);
    expect(await statusFor(server.url, `${secret}/report/index.html?again`)).toBe(200);
  });

  it("stands at another address each time, so that nobody else on the machine can guess it", async () => {
    const servers = [await serve(0), await serve(0)];
    open.push(...servers);
    const [one = "", two = ""] = servers.map(({ url }) => new URL(url).pathname);
    expect([one, two]).toEqual([
      expect.stringMatching(/^\/[\w-]{22}\/$/),
      expect.stringMatching(/^\/[\w-]{22}\/$/),
    ]);
    expect(one).not.toBe(two);
  });

  it("lets its page run its own script and nothing else", async () => {
    const server = await serve(0);
    open.push(server);
    const page = await fetch(server.url);
    expect(page.headers.get("content-security-policy")).toBe(FRAME_POLICY);
    const script = /<script>([\s\S]*)<\/script>/.exec(FRAME_PAGE)?.[1] ?? "";
    const hash = Buffer.from(contentHash(script), "hex").toString("base64");
    expect(FRAME_POLICY).toContain(`script-src 'sha256-${hash}'`);
    expect(FRAME_POLICY).toContain("default-src 'none'");
    expect(FRAME_POLICY).not.toContain("unsafe");
  });
});

describe("notebookFiles()", () => {
  it("are the notebook, its lock and all it imports, however they refer to one another", () => {
    const one = join(folder, "one.ts");
    writeFileSync(
      one,
      'import "./two.ts";\nimport type { A } from "./gone.fields.ts";\nimport "mantle-outcomes";',
    );
    writeFileSync(join(folder, "two.ts"), 'export * from "./one.ts";\nconst later = import("./three.ts");');
    const names = ["one.lock.json", "one.ts", "gone.fields.ts", "two.ts", "three.ts"];
    expect([...notebookFiles(one)].sort()).toEqual(names.map((name) => join(folder, name)).sort());
  });
});

/** The ends of runs, one after the other. */
function endings() {
  const seen: string[] = [];
  const waiting: ((failed: string) => void)[] = [];
  return {
    ended(failed: string): void {
      const first = waiting.shift();
      if (first === undefined) seen.push(failed);
      else first(failed);
    },
    next(): Promise<string> {
      const first = seen.shift();
      return first === undefined ? new Promise((resolve) => waiting.push(resolve)) : Promise.resolve(first);
    },
  };
}

async function text({ url }: Watching, place: string): Promise<string> {
  return (await fetch(`${url}${place}`)).text();
}

async function firstEvent({ url }: Watching): Promise<string> {
  const reader = (await fetch(`${url}told`)).body?.getReader();
  const { value } = (await reader?.read()) ?? {};
  await reader?.cancel();
  return new TextDecoder().decode(value);
}

/** Sent as it is written. */
function statusFor(url: string, path: string, host = new URL(url).host): Promise<number | undefined> {
  return new Promise((resolve, reject) => {
    request({ host: "127.0.0.1", port: new URL(url).port, path, headers: { host } }, (response) => {
      response.resume();
      resolve(response.statusCode);
    })
      .on("error", reject)
      .end();
  });
}
