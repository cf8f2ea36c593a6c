import { choleskySolve, type SymmetricMatrix } from "../numeric/symmetric-matrix.ts";

/** Which columns carry information of their own, in the order given. */
export interface IndependentColumns {
  readonly kept: readonly number[];
  /** Columns that those kept before them already determine; `by` is empty for one that does not vary at all. */
  readonly dropped: readonly { readonly column: number; readonly by: readonly number[] }[];
}

// Beside its own information; and beside what one unit of standard deviation would give.
const [EXPLAINED, NO_INFORMATION] = [1e-9, 1e-10];
// Columns are scaled, so a share below this is rounding.
const NO_SHARE = 1e-6;

/** Takes columns one after the other and leaves out each that adds nothing. `unit`: information of one unit of variance. */
export function independentColumns(information: SymmetricMatrix, unit: number): IndependentColumns {
  const kept: number[] = [];
  const rows: Float64Array[] = [];
  const dropped: { column: number; by: number[] }[] = [];
  const size = information.length;
  for (let column = 0; column < size; column += 1) {
    const own = information[column]?.[column] ?? 0;
    const line = new Float64Array(size);
    let rest = own;
    kept.forEach((other, at) => {
      let sum = information[column]?.[other] ?? 0;
      for (let k = 0; k < at; k += 1) sum -= (line[k] ?? 0) * (rows[at]?.[k] ?? 0);
      line[at] = sum / (rows[at]?.[at] ?? 1);
      rest -= (line[at] ?? 0) * (line[at] ?? 0);
    });
    if (!(own > NO_INFORMATION * unit)) dropped.push({ column, by: [] });
    else if (rest > EXPLAINED * own) {
      line[kept.length] = Math.sqrt(rest);
      rows.push(line);
      kept.push(column);
    } else {
      const shares = choleskySolve(
        { size: kept.length, rows },
        kept.map((other) => information[column]?.[other] ?? 0),
      );
      dropped.push({ column, by: kept.filter((_, at) => Math.abs(shares[at] ?? 0) > NO_SHARE) });
    }
  }
  return { kept, dropped };
}
