/** A typed array as a plain one. Filled by index: spreading a typed array walks its iterator and costs ten times as much. */
export function plainNumbers(values: ArrayLike<number>): number[] {
  const plain = new Array<number>(values.length);
  for (let at = 0; at < values.length; at++) plain[at] = values[at] ?? 0;
  return plain;
}
