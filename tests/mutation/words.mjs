import { declareValuePlugin, PluginKind } from "@stryker-mutator/api/plugin";

/** Words for readers: tests assert that a refusal comes and its code, never its sentence. */
function shouldIgnore({ node, parent, key, listKey }) {
  if (listKey !== "arguments") return;
  const called = parent.callee?.name;
  if (parent.type === "NewExpression" && called === "ArgumentError") return "the sentence of an error";
  if (called === "notComputed" && key > 0) return "the sentence of a refusal";
  if (key === 0 && node.type === "StringLiteral" && /^[a-z]+[A-Z]/.test(node.value))
    return "the function an error names";
}

export const strykerPlugins = [declareValuePlugin(PluginKind.Ignore, "words", { shouldIgnore })];
