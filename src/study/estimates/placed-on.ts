/**
 * Values that stand beside one list of rows, for another list that is part of it. Both ascend.
 */
export function placedOn(rows: Int32Array, beside: Int32Array): (values: ArrayLike<number>) => Int32Array {
  return (values) => {
    let place = 0;
    return rows.map((row) => {
      while (place < beside.length && beside[place] !== row) place += 1;
      return values[place] ?? 0;
    });
  };
}
