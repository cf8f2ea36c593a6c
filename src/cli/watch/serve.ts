import { randomBytes } from "node:crypto";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { UsageError } from "../../base/errors.ts";
import { FRAME_PAGE, FRAME_POLICY } from "./frame-page.ts";

/** Nobody but this machine. */
const HOST = "127.0.0.1";
const SECRET_BYTES = 16;
const REPORT = "report/";

const TYPES: Readonly<Record<string, string>> = {
  html: "text/html; charset=utf-8",
  json: "application/json; charset=utf-8",
  svg: "image/svg+xml; charset=utf-8",
  csv: "text/csv; charset=utf-8",
};

/** What the page is told: how many reports were made, what goes on, and why the last run failed. */
export interface Told {
  readonly run: number;
  readonly words: string;
  /** Empty where it did not. */
  readonly failed: string;
}

export interface ReportServer {
  /** Where the page is. Nobody can guess it, and nothing is read anywhere else. */
  readonly url: string;
  /** Files of the report by path; shown from now on. */
  show(files: ReadonlyMap<string, string>): void;
  tell(told: Told): void;
  close(): void;
}

/**
 * Serves a report from memory to browsers on this machine, under a path made anew each time: every user of the machine
 * reaches its ports, and a copy for analysts is for those alone who were given the address.
 *
 * @throws UsageError where the port is taken.
 */
export async function serve(port: number): Promise<ReportServer> {
  let files: ReadonlyMap<string, string> = new Map();
  let last = "";
  const listeners = new Set<ServerResponse>();
  const secret = randomBytes(SECRET_BYTES).toString("base64url");
  const server = createServer((request, response) => {
    if (!namesThisMachine(request, server)) return refuse(response, 403, "Only this machine may read here.");
    const place = placeUnder(secret, request.url ?? "");
    if (place === undefined) return refuse(response, 404, "There is nothing here.");
    if (request.method !== "GET") return refuse(response, 405, "There is nothing to send here.");
    if (place === "") return answer(response, TYPES.html ?? "", FRAME_PAGE, FRAME_POLICY);
    if (place === "told") return listen(response, listeners, last);
    const file = place.startsWith(REPORT) ? files.get(place.slice(REPORT.length)) : undefined;
    if (file === undefined) return refuse(response, 404, "There is no such file.");
    const type = TYPES[place.split(".").at(-1) ?? ""] ?? "text/plain; charset=utf-8";
    return answer(response, type, file, "frame-ancestors 'self'");
  });
  await listening(server, port);
  return {
    url: `http://${HOST}:${portOf(server)}/${secret}/`,
    show(made) {
      files = made;
    },
    tell(told) {
      last = `data: ${JSON.stringify(told)}\n\n`;
      for (const listener of listeners) listener.write(last);
    },
    close() {
      server.close();
      server.closeAllConnections();
    },
  };
}

/** A page elsewhere could have its name lead here; a request that does not name this machine is refused. */
function namesThisMachine(request: IncomingMessage, server: Server): boolean {
  const port = portOf(server);
  return [`${HOST}:${port}`, `localhost:${port}`].includes(request.headers.host ?? "");
}

/** What is asked for behind the secret. Cut as text: what somebody sends need not be an address that can be parsed. */
function placeUnder(secret: string, asked: string): string | undefined {
  const [path = ""] = asked.split("?");
  return path.startsWith(`/${secret}/`) ? path.slice(secret.length + 2) : undefined;
}

function listen(response: ServerResponse, listeners: Set<ServerResponse>, last: string): void {
  response.writeHead(200, { ...COMMON, "Content-Type": "text/event-stream; charset=utf-8" });
  response.write(last);
  listeners.add(response);
  response.on("close", () => listeners.delete(response));
}

const COMMON = {
  "Cache-Control": "no-store",
  "X-Content-Type-Options": "nosniff",
  "Referrer-Policy": "no-referrer",
  "Cross-Origin-Resource-Policy": "same-origin",
} as const;

function answer(response: ServerResponse, type: string, text: string, policy: string): void {
  response.writeHead(200, { ...COMMON, "Content-Type": type, "Content-Security-Policy": policy });
  response.end(text);
}

function refuse(response: ServerResponse, status: number, words: string): void {
  response.writeHead(status, { ...COMMON, "Content-Type": "text/plain; charset=utf-8" });
  response.end(`${words}\n`);
}

function listening(server: Server, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once("error", (error: NodeJS.ErrnoException) => {
      const taken = new UsageError(
        "port-taken",
        `--port: ${port} is taken or not allowed; name another, or leave it out`,
      );
      reject(error.code === "EADDRINUSE" || error.code === "EACCES" ? taken : error);
    });
    server.listen(port, HOST, resolve);
  });
}

function portOf(server: Server): number {
  // A server that listens on a port has an address of this form.
  return (server.address() as AddressInfo).port;
}
