import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { type NewOptions, newNotebook } from "../../src/cli/commands/new.ts";
import { loadNotebook } from "../../src/study/notebook/load-notebook.ts";
import { saidBy, smallProject } from "./small-project.ts";

const ROOT = join(import.meta.dirname, "../..");
const { folder } = smallProject();
const out = join(folder, "notebooks");
const made = (question: string | undefined, options: Partial<NewOptions> = {}) =>
  saidBy(() => newNotebook(question, { export: folder, out, fieldsOnly: false, ...options }));
const text = (name: string) => readFileSync(join(out, name), "utf8");
const FIELDS = "invented-cemented-knees.fields.ts";

describe("mantle new", () => {
  it("writes a notebook with the question, the way to the export and what the export has", async () => {
    const { code, said } = await made("Does drilling of hard bone matter, or not at all?");
    expect(code).toBe(0);
    expect(said).toBe([join(out, "does-drilling-of-hard-bone-matter.ts"), join(out, FIELDS)].join("\n"));
    const notebook = text("does-drilling-of-hard-bone-matter.ts");
    expect(notebook).toContain('question: "Does drilling of hard bone matter, or not at all?"');
    expect(notebook).toContain('export: "../datapackage.json"');
    expect(notebook).toContain("//   drilling – Drilling of sclerotic bone\n");
    expect(notebook).toContain("//   loosening – aseptic loosening\n");
  });

  it("never writes over the types of another export of the same name", async () => {
    const other = join(folder, "elsewhere");
    mkdirSync(other, { recursive: true });
    writeFileSync(join(other, "datapackage.json"), readFileSync(join(folder, "datapackage.json"), "utf8"));
    await made("First?");
    const before = text(FIELDS);
    await expect(made("Second?", { export: other })).rejects.toThrow(
      /types of another export and stays as it is/,
    );
    expect(text(FIELDS)).toBe(before);
    expect(existsSync(join(out, "second.ts"))).toBe(false);
  });

  it("leaves every decision open, and a report names each place that is", async () => {
    await made("What is open?");
    const loading = loadNotebook(join(out, "what-is-open.ts"));
    await expect(loading).rejects.toThrow(/what-is-open\.ts: 9 parts of the plan are still to be decided/);
    const parts = [
      "title: decide title",
      "eligibility: decide who is studied: name, field, codes kept",
      "exposure: decide what is compared: step, names of the groups (done, not done)",
      "endpoint: decide what is counted: event (name, reasons for revision), competing outcomes (name, reasons for revision), ",
      "adjusters: decide adjusters: field, settled, reason",
      "smallestDifferenceThatMatters: decide smallest difference that matters: per 1000, reason",
    ];
    for (const part of parts) await expect(loading).rejects.toThrow(part);
    await expect(loading).rejects.toThrow(/line 7, title: /);
  });

  it("has the compiler point at the open places too, and at nothing else", async () => {
    await made("What does the compiler say?");
    const name = "what-does-the-compiler-say.ts";
    // A project of one's own is a folder of modules, as this one is.
    writeFileSync(join(folder, "package.json"), '{ "type": "module" }');
    const errors = compile(join(out, name));
    const lines = text(name).split("\n");
    expect(errors.length).toBeGreaterThan(6);
    for (const line of errors) expect(lines[line]).toContain('"?"');
  });

  it("never writes over a notebook, but writes the types of the export again", async () => {
    await made("Is it there?");
    writeFileSync(join(out, "is-it-there.ts"), "// mine");
    await expect(made("Is it there?")).rejects.toThrow(/is-it-there\.ts: is there already and stays/);
    expect(text("is-it-there.ts")).toBe("// mine");
    writeFileSync(join(out, FIELDS), `${text(FIELDS)}// spoilt`);
    expect((await made(undefined, { fieldsOnly: true })).said).toBe(join(out, FIELDS));
    expect(text(FIELDS)).not.toContain("spoilt");
    const own = join(folder, "own");
    mkdirSync(own);
    writeFileSync(join(own, FIELDS), "export const mine = 1;\n");
    await expect(made("Is it mine?", { out: own })).rejects.toThrow(/this command did not write/);
    expect(existsSync(join(own, "is-it-mine.ts"))).toBe(false);
  });

  it("writes the types that lie beside the notebooks of the project", async () => {
    const notebooks = join(folder, "again");
    await made(undefined, { fieldsOnly: true, export: join(ROOT, "data/demo"), out: notebooks });
    const committed = readFileSync(join(ROOT, "notebooks", FIELDS), "utf8");
    const again = readFileSync(join(notebooks, FIELDS), "utf8");
    // The first line names the dictionary as seen from there.
    expect(again.split("\n").slice(1)).toEqual(committed.split("\n").slice(1));
    expect(committed.split("\n")[0]).toMatch(/: \.\.\/data\/demo\/datapackage\.json$/);
  });

  it("takes words of a dictionary as text, whatever they hold", async () => {
    const hostile = join(folder, "hostile");
    mkdirSync(hostile);
    const descriptor = JSON.parse(readFileSync(join(folder, "datapackage.json"), "utf8"));
    const fields = descriptor.resources[0].schema.fields;
    fields.find(({ role }: { role: string }) => role === "sex").title = "*/ boom();\n boom(); /*";
    fields.find(({ role }: { role: string }) => role === "sex").categories[0].value = '" + boom() + "';
    descriptor.title = "*/ boom(); \u2028 `$" + "{boom()}`";
    writeFileSync(join(hostile, "datapackage.json"), JSON.stringify(descriptor));
    const question = 'Is "this" safe */ \\ `$' + "{boom()}` ?";
    await made(question, { export: hostile, out: hostile });
    for (const name of ["is-this-safe-boom.ts", FIELDS]) {
      const tree = ts.createSourceFile(
        name,
        readFileSync(join(hostile, name), "utf8"),
        ts.ScriptTarget.ES2023,
      );
      expect("parseDiagnostics" in tree && tree.parseDiagnostics).toEqual([]);
      expect(callsIn(tree)).toEqual(name === FIELDS ? [] : ["defineStudy"]);
    }
  });

  it.each<[string, string | undefined, Partial<NewOptions>, RegExp]>([
    ["no question", " ", {}, /write the question in quotes/],
    ["a question without a letter", "¿?", {}, /add --name/],
    ["a name that is no name", "Does it?", { name: "Does it" }, /--name: write lower-case words/],
    ["an export that is not there", "Does it?", { export: "none" }, /none: /],
  ])("refuses %s", async (_what, question, options, words) => {
    await expect(made(question, options)).rejects.toThrow(words);
  });
});

/** Lines at which a notebook does not compile, counted from 0. */
function compile(path: string): number[] {
  const options: ts.CompilerOptions = {
    ...ts.convertCompilerOptionsFromJson(
      ts.readConfigFile(join(ROOT, "tsconfig.json"), ts.sys.readFile).config.compilerOptions,
      ROOT,
    ).options,
    // The one function that a new notebook calls, so that the compiler need not read the whole package.
    paths: { "mantle-outcomes": [join(ROOT, "src/study/plan/define-study.ts")] },
    types: [],
  };
  const program = ts.createProgram([path], options);
  const file = program.getSourceFile(path);
  return program
    .getSemanticDiagnostics(file)
    .map(({ start = 0 }) => file?.getLineAndCharacterOfPosition(start).line ?? -1);
}

function callsIn(tree: ts.SourceFile): string[] {
  const calls: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isCallExpression(node)) calls.push(node.expression.getText(tree));
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return calls;
}
