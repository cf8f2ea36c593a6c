/** Sum of factor × unknown = value; an unknown is named by its place in the ledger. */
export interface Equation {
  readonly factors: ReadonlyMap<number, number>;
  readonly value: number;
}
