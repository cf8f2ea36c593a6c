import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";
import ts from "typescript";
import { describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "..");
const SOURCE = join(ROOT, "src");

/** Who may import whom: the table of the architecture, top to bottom. */
const MAY_IMPORT: Record<string, readonly string[]> = {
  base: [],
  numeric: ["base"],
  survival: ["base", "numeric"],
  regression: ["base", "numeric", "survival"],
  summaries: ["base", "numeric"],
  balance: ["base", "numeric", "summaries", "survival", "regression"],
  planning: ["base", "numeric"],
  evidence: ["base", "numeric"],
  monitoring: ["base", "numeric", "summaries"],
  cases: ["base"],
  technique: ["base", "cases"],
  cohort: ["base", "cases", "technique"],
  synthetic: ["base", "numeric", "cases", "technique"],
  disclosure: ["base"],
  figures: ["base", "disclosure"],
  report: ["base", "disclosure"],
  cli: ["base", "cases", "synthetic", "study"],
};
/** `study` sees all of these but the command line; `index.ts` sees everything. */
const SEES_ALL = ["study", "index.ts"];
/** Types of results may be named where results are shown. */
const MAY_NAME_RESULT_TYPES = ["disclosure", "figures", "report"];

/** The only folders in which a package may be used; packages not listed may be used nowhere. */
const PACKAGE_FOLDERS: Record<string, readonly string[]> = {
  "@observablehq/plot": ["figures"],
  linkedom: ["figures"],
  arquero: ["cases/case-table.ts"],
  "d3-array": ["summaries", "figures", "disclosure"],
  "simple-statistics": ["summaries"],
  "@stdlib": ["numeric"],
  "iconv-lite": ["cases"],
  "@e965/xlsx": ["cases"],
  hyparquet: [
    "cases/tables/parquet-table.ts",
    "cases/tables/parquet-column.ts",
    "cases/tables/page-decompressors.ts",
    "cases/tables/sound-pages.ts",
  ],
  "hyparquet-compressors": ["cases/tables/page-decompressors.ts"],
  "pure-rand": ["base"],
  zod: ["cases", "study"],
  commander: ["cli"],
  tsx: ["cli", "study"],
};

/** What would make a report depend on the machine, the day or the place it was made. */
const FORBIDDEN: readonly (readonly [RegExp, string, readonly string[]])[] = [
  [/\bMath\.random\b/, "Math.random", []],
  // Where the address of a watched report must not be guessed; it reaches no file.
  [/\brandom(Bytes|UUID|Int|Fill|FillSync)\b|\bgetRandomValues\b/, "a random source", ["cli/watch/serve.ts"]],
  [/\bDate\.now\b|\bnew Date\(\)/, "the clock", ["cli"]],
  [/\btoLocale\w+|\bIntl\./, "a locale", []],
  [/\bMath\.pow\b|\*\*/, "powers (they differ between versions of the engine)", []],
  [
    /\bprocess\.(version|versions|platform|arch)\b|\bos\.(hostname|userInfo|platform)\b/,
    "the machine",
    ["cli"],
  ],
  [/\blocaleCompare\b/, "a locale", []],
];

interface SourceImport {
  readonly from: string;
  readonly target: string;
  readonly typeOnly: boolean;
}

const files = readdirSync(SOURCE, { recursive: true, encoding: "utf8" })
  .filter((name) => name.endsWith(".ts"))
  .map((name) => name.split(sep).join("/"));

function importsOf(file: string): SourceImport[] {
  const text = readFileSync(join(SOURCE, file), "utf8");
  const tree = ts.createSourceFile(file, text, ts.ScriptTarget.ES2023, true);
  const found: SourceImport[] = [];
  const visit = (node: ts.Node): void => {
    if (
      (ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) &&
      node.moduleSpecifier !== undefined
    ) {
      const typeOnly = ts.isImportDeclaration(node)
        ? node.importClause?.phaseModifier === ts.SyntaxKind.TypeKeyword
        : node.isTypeOnly;
      found.push({ from: file, target: (node.moduleSpecifier as ts.StringLiteral).text, typeOnly });
    }
    if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
      const [argument] = node.arguments;
      if (argument !== undefined && ts.isStringLiteral(argument)) {
        found.push({ from: file, target: argument.text, typeOnly: false });
      }
    }
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return found;
}

const folderOf = (path: string): string => path.split("/")[0] ?? path;

function targetFolder(edge: SourceImport): string {
  const absolute = join(SOURCE, edge.from, "..", edge.target);
  return folderOf(relative(SOURCE, absolute).split(sep).join("/"));
}

function isAllowedEdge(edge: SourceImport): boolean {
  const from = folderOf(edge.from);
  const to = targetFolder(edge);
  if (from === to || from === "index.ts") return true;
  if (from === "study") return Object.hasOwn(MAY_IMPORT, to) && to !== "cli";
  if (edge.typeOnly && MAY_NAME_RESULT_TYPES.includes(from))
    return Object.hasOwn(MAY_IMPORT, to) && to !== "cli";
  return MAY_IMPORT[from]?.includes(to) ?? false;
}

function packageName(target: string): string {
  const [first = "", second = ""] = target.split("/");
  if (first === "@stdlib") return first;
  return first.startsWith("@") ? `${first}/${second}` : first;
}

describe("folders of src/", () => {
  const edges = files.flatMap(importsOf);
  const text = (edge: SourceImport) => `${edge.from} → ${edge.target}`;

  it("read imports at all", () => {
    expect(edges.length).toBeGreaterThan(20);
  });

  it("import only folders that stand above them in the architecture", () => {
    const wrong = edges.filter((edge) => edge.target.startsWith(".") && !isAllowedEdge(edge));
    expect(wrong.map(text)).toEqual([]);
  });

  it("use a third-party package only where it is at home", () => {
    const wrong = edges
      .filter((edge) => !edge.target.startsWith(".") && !edge.target.startsWith("node:"))
      .filter((edge) => {
        const homes = PACKAGE_FOLDERS[packageName(edge.target)] ?? [];
        return !homes.some((home) => edge.from === home || folderOf(edge.from) === home);
      });
    expect(wrong.map(text)).toEqual([]);
  });

  it("read files only in cases/, study/ and cli/, and write them only in cli/ (cases/ has a private scratch folder)", () => {
    const wrong = edges
      .filter((edge) => /^node:fs/.test(edge.target))
      .filter((edge) => !["cases", "cli", "study"].includes(folderOf(edge.from)));
    expect(wrong.map(text)).toEqual([]);
  });

  it("depend on no clock, locale, machine or random source", () => {
    const wrong = files.flatMap((file) => {
      const code = withoutComments(readFileSync(join(SOURCE, file), "utf8"));
      return FORBIDDEN.filter(
        ([pattern, , homes]) =>
          pattern.test(code) && !homes.some((home) => [file, folderOf(file)].includes(home)),
      ).map(([, what]) => `${file} uses ${what}`);
    });
    expect(wrong).toEqual([]);
  });

  it("hold nothing but folders of the architecture", () => {
    const known = [...Object.keys(MAY_IMPORT), ...SEES_ALL];
    expect([...new Set(files.map(folderOf))].filter((folder) => !known.includes(folder))).toEqual([]);
  });
});

/** Strings stay: a forbidden call inside a string is rare, and a false alarm is cheap. */
function withoutComments(code: string): string {
  return code.replace(/\/\*[\s\S]*?\*\//g, "").replace(/(^|\s)\/\/.*$/gm, "");
}
