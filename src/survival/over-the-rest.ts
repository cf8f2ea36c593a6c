/**
 * The influence of each unit over one minus its share of the group: a large unit has pulled the estimate towards itself.
 *
 * A unit that is its whole group has no influence on it, so there is nothing to divide.
 */
export function overTheRest(influence: Float64Array, shares: ArrayLike<number>): Float64Array {
  return influence.map((value, unit) => {
    const rest = 1 - (shares[unit] ?? 0);
    return rest > 0 ? value / rest : 0;
  });
}
