import { agrees, type Tolerance } from "../../tests/reference/tolerance.ts";

/** A number, or null where it is not defined or not reached. */
export type MaybeNumber = number | null;

/** Printed figures, rounded to a number of decimals. */
export interface Printed {
  readonly figures: readonly number[];
  readonly decimals: number;
}

/** One row of the report: a value, or a run of like values of which the worst is shown. */
export interface Check {
  readonly quantity: string;
  readonly values: number;
  /** How many of them lie within the tolerance. */
  readonly agreeing: number;
  /** The value shown: the only one, or the one that lies farthest from its reference. */
  readonly reference: MaybeNumber;
  readonly ours: MaybeNumber;
  /** |ours − reference| over |reference|; absolute where the reference is 0. */
  readonly difference: number;
  readonly tolerance: Tolerance;
  /** Left out where all values agree. */
  readonly fault?: string;
  readonly print?: PrintCheck;
}

export interface PrintCheck extends Printed {
  /** Every figure is our value, rounded. */
  readonly agrees: boolean;
  /** Why a printed figure is known to differ. */
  readonly because?: string;
}

/** One published or constructed example with all that was checked on it. */
export interface Example {
  readonly title: string;
  /** Where figures are printed, in our own words. */
  readonly printedIn?: string;
  /** Figures, table and page numbers were recalled, not read in the source. */
  readonly fromMemory: boolean;
  /** What computed the reference values. */
  readonly reference: string;
  readonly checks: readonly Check[];
}

/** One method of the package with its examples: one table of the report. */
export interface Method {
  readonly id: string;
  readonly title: string;
  /** Functions of the package that the checks call. */
  readonly functions: readonly string[];
  readonly notes?: readonly string[];
  readonly examples: readonly Example[];
}

/** A single value against its reference, and against print where there is a figure. */
export function valueCheck(
  quantity: string,
  ours: unknown,
  reference: unknown,
  tolerance: Tolerance,
  print?: { readonly figure: number; readonly decimals: number; readonly because?: string },
): Check {
  const printed = print && { ...print, figures: [print.figure] };
  return seriesCheck(quantity, [ours], [reference], tolerance, printed);
}

/** Like values, one by one; the row shows the one farthest off. */
export function seriesCheck(
  quantity: string,
  ours: readonly unknown[],
  reference: readonly unknown[],
  tolerance: Tolerance,
  print?: Printed & { readonly because?: string },
): Check {
  const pairs = reference.map((value, at) => ({ ours: numberOf(ours[at]), reference: numberOf(value) }));
  const first = pairs[0] ?? { ours: null, reference: null };
  const shown = pairs.reduce((most, pair) => (distance(pair) > distance(most) ? pair : most), first);
  const agreeing = pairs.filter((pair) => within(pair, tolerance)).length;
  const fault = faultOf(pairs.length, agreeing, ours.length);
  return {
    quantity,
    values: pairs.length,
    agreeing,
    ...shown,
    difference: distance(shown),
    tolerance,
    ...(fault !== undefined && { fault }),
    ...(print !== undefined && { print: printCheck(pairs, print) }),
  };
}

interface Pair {
  readonly ours: MaybeNumber;
  readonly reference: MaybeNumber;
}

/** Reference files write "NaN" and "Inf" for what has no value; the package says so in words. */
function numberOf(value: unknown): MaybeNumber {
  return typeof value === "number" ? value : null;
}

/** Infinite where only one side has a value, and where ours is no number at all: nothing lies farther off. */
function distance({ ours, reference }: Pair): number {
  if (ours === null || reference === null) return ours === reference ? 0 : Number.POSITIVE_INFINITY;
  const apart = Math.abs(ours - reference);
  if (Number.isNaN(apart)) return Number.POSITIVE_INFINITY;
  return reference === 0 ? apart : apart / Math.abs(reference);
}

function faultOf(values: number, agreeing: number, ours: number): string | undefined {
  if (values === 0) return "no value was compared";
  if (ours !== values) return `${ours} of ${values} values are there`;
  if (agreeing === values) return undefined;
  return values === 1
    ? "beyond the tolerance"
    : `${values - agreeing} of ${values} values lie beyond the tolerance`;
}

function within({ ours, reference }: Pair, tolerance: Tolerance): boolean {
  if (ours === null || reference === null) return ours === reference;
  return agrees(ours, reference, tolerance);
}

function printCheck(pairs: readonly Pair[], print: Printed & { readonly because?: string }): PrintCheck {
  const { figures, decimals, because } = print;
  // Half a unit of the last printed decimal, and the rounding of the comparison itself.
  const half = 0.5 * Number(`1e-${decimals}`) + 1e-12;
  const rounds = (figure: number, at: number) => {
    const ours = pairs[at]?.ours;
    return typeof ours === "number" && Math.abs(ours - figure) <= half;
  };
  return {
    figures,
    decimals,
    agrees: figures.length === pairs.length && figures.every(rounds),
    ...(because !== undefined && { because }),
  };
}
