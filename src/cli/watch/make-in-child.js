import { register as registerHooks } from "node:module";
import { register } from "tsx/esm/api";

// As the command itself starts: a process of its own sees every file as it is now.
register();
registerHooks("../notebook-hooks.js", import.meta.url);
await import("./child.ts");
