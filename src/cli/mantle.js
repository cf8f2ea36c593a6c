#!/usr/bin/env node
import { register as registerHooks } from "node:module";
import { register } from "tsx/esm/api";

register();
registerHooks("./notebook-hooks.js", import.meta.url);
await import("./main.ts");
