import ts from "typescript";

/** What an expression of an example came to, and what the comment behind it says. */
export interface Came {
  readonly said: string;
  readonly value: unknown;
}

// There is no other name for it.
const AsyncFunction = (async () => {}).constructor as new (
  ...parts: string[]
) => (...values: unknown[]) => Promise<Came[]>;

/** Runs an example in a scope and hands back what every commented expression came to. */
export async function runExample(code: string, scope: Readonly<Record<string, unknown>>): Promise<Came[]> {
  const tree = ts.createSourceFile("example.ts", code, ts.ScriptTarget.ES2023, true);
  const lines = tree.statements.map((statement) => {
    const text = statement.getText(tree);
    if (!ts.isExpressionStatement(statement)) return text;
    const expression = statement.expression.getText(tree);
    const said = JSON.stringify(commentAfter(code, statement.end));
    return `came.push({ said: ${said}, value: await (${expression}) });`;
  });
  const body = ["const came: unknown[] = [];", ...lines, "return came;"].join("\n");
  const { outputText } = ts.transpileModule(`async function example() {\n${body}\n}`, {
    compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext },
  });
  return new AsyncFunction(...Object.keys(scope), `${outputText}\nreturn example();`)(
    ...Object.values(scope),
  );
}

/** The comment on the rest of a line, and on lines of their own beneath it. */
function commentAfter(code: string, end: number): string {
  const [, same = "", below = ""] = /^[ \t]*(?:\/\/(.*))?((?:\n[ \t]*\/\/.*)*)/.exec(code.slice(end)) ?? [];
  return `${same} ${below.replace(/\n[ \t]*\/\//g, " ")}`.trim();
}
