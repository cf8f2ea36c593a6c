import { readFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";

/** An example of a doc comment. */
export interface DocExample {
  /** The function whose comment it is. */
  readonly name: string;
  readonly code: string;
}

/** Names and examples of what a file of re-exports hands out. Types have none. */
export interface PublicNames {
  readonly functions: readonly string[];
  readonly examples: readonly DocExample[];
}

/** Reads the doc comments of everything that an index file exports by name. */
export function examplesOf(index: string): PublicNames {
  const found = exportsOf(index).flatMap(({ name, file }) => {
    const declaration = declarationOf(name, join(index, "..", file));
    return declaration === undefined ? [] : [{ name, ...declaration }];
  });
  return {
    functions: found.filter(({ isFunction }) => isFunction).map(({ name }) => name),
    examples: found.flatMap(({ name, examples }) => examples.map((code) => ({ name, code }))),
  };
}

function exportsOf(index: string): { name: string; file: string }[] {
  const found: { name: string; file: string }[] = [];
  for (const statement of parse(index).statements) {
    if (!ts.isExportDeclaration(statement) || statement.isTypeOnly) continue;
    if (statement.moduleSpecifier === undefined || statement.exportClause === undefined) continue;
    if (!ts.isNamedExports(statement.exportClause)) continue;
    const file = (statement.moduleSpecifier as ts.StringLiteral).text;
    for (const { name, propertyName } of statement.exportClause.elements) {
      found.push({ name: (propertyName ?? name).text, file });
    }
  }
  return found;
}

function declarationOf(
  name: string,
  file: string,
): { isFunction: boolean; examples: readonly string[] } | undefined {
  const tree = parse(file);
  for (const statement of tree.statements) {
    const isFunction = ts.isFunctionDeclaration(statement);
    const names = isFunction
      ? [statement.name?.text]
      : ts.isVariableStatement(statement)
        ? statement.declarationList.declarations.map((one) => one.name.getText(tree))
        : [];
    if (names.includes(name)) return { isFunction, examples: exampleTexts(statement) };
  }
  // A folder's own index hands it on.
  const further = exportsOf(file).find((one) => one.name === name);
  return further === undefined ? undefined : declarationOf(name, join(file, "..", further.file));
}

function exampleTexts(node: ts.Node): string[] {
  return ts
    .getJSDocTags(node)
    .filter(({ tagName }) => tagName.text === "example")
    .map(({ comment }) => (ts.getTextOfJSDocComment(comment) ?? "").replace(/^```ts\n|\n```$/g, ""));
}

function parse(path: string): ts.SourceFile {
  return ts.createSourceFile(path, readFileSync(path, "utf8"), ts.ScriptTarget.ES2023, true);
}
