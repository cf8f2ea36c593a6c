/** 1 for each of these rows, 0 for the others of an export of so many: a set of rows that costs a byte each. */
export function rowMarks(rows: Int32Array, count: number): Uint8Array {
  const marks = new Uint8Array(count);
  for (let at = 0; at < rows.length; at += 1) marks[rows[at]!] = 1;
  return marks;
}
