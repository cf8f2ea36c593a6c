import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "..");
const { files, exports, scripts } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"));

const shipped = ["src", "notebooks"]
  .flatMap((folder) =>
    readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" }).map((name) => join(folder, name)),
  )
  .filter((path) => /\.[jt]s$/.test(path))
  .filter(
    (path) => !files.some((rule: string) => rule[0] === "!" && `${path}/`.startsWith(`${rule.slice(1)}/`)),
  );
const textOf = (path: string) => readFileSync(join(ROOT, path), "utf8");

describe("the package as it is installed", () => {
  it("needs nothing of the tests, which are not shipped", () => {
    expect(shipped.length).toBeGreaterThan(200);
    const outside = shipped.filter((path) => /["'](\.\.\/)+tests\//.test(textOf(path)));
    expect(outside).toEqual([]);
  });

  it("makes the declarations that its types entry names before it is packed", () => {
    expect(scripts.prepack).toBe("tsc -p src/tsconfig.declarations.json");
    const { config } = ts.readConfigFile(join(ROOT, "src/tsconfig.declarations.json"), ts.sys.readFile);
    const { rootDir, outDir, emitDeclarationOnly } = config.compilerOptions;
    expect(emitDeclarationOnly).toBe(true);
    // Both folders are named from src/, where the settings file stands.
    const [from = "", to = ""] = [rootDir, outDir].map((folder: string) => join("src", folder, "."));
    const source = exports["."].default.replace(`./${from}/`, `./${to}/`);
    expect(exports["."].types).toBe(source.replace(/\.ts$/, ".d.ts"));
    expect(files).toContain(to);
  });
});
