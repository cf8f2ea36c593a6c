/** Computes when it is first asked, and never again. */
export function once<Value>(compute: () => Value): () => Value {
  let kept: { readonly value: Value } | undefined;
  return () => {
    kept ??= { value: compute() };
    return kept.value;
  };
}
