const MANTLE = new URL("../index.ts", import.meta.url).href;

/**
 * How a notebook's imports are found.
 *
 * A notebook is a module whatever the package.json above it says, and "mantle-outcomes" is the very package that runs
 * it: a second copy would not know the errors of the first.
 */
export async function resolve(specifier, context, nextResolve) {
  if (specifier === "mantle-outcomes") return { url: MANTLE, format: "module", shortCircuit: true };
  const found = await nextResolve(specifier, context);
  return /\.ts(\?|$)/.test(found.url) ? { ...found, format: "module" } : found;
}
