import { ArgumentError } from "./errors.ts";

/**
 * A number with a fixed count of decimals and a point; from five digits on, thousands stand apart by a narrow space that
 * does not break. Four digits stand together everywhere, "per 1000" included. No locale is asked.
 */
export function fixed(value: number, decimals: number): string {
  requireFinite(value, "fixed");
  const text = Math.abs(value).toFixed(decimals);
  const [whole = "0", fraction] = text.split(".");
  const grouped = groupThousands(whole);
  // A value that rounds to nothing carries no sign: "-0.0" reads as a typing error.
  const sign = value < 0 && Number(text) !== 0 ? "−" : "";
  return sign + (fraction === undefined ? grouped : `${grouped}.${fraction}`);
}

/** A whole count, thousands apart: 8 012. */
export function count(value: number): string {
  return fixed(value, 0);
}

/** A share of a whole in per cent. */
export function percent(share: number, decimals: number): string {
  return `${fixed(100 * share, decimals)} %`;
}

/** p-value with two significant figures and "< 0.001" as the floor; never 0. */
export function pValue(p: number): string {
  requireFinite(p, "pValue");
  if (p < 0.001) return "< 0.001";
  if (p > 0.99) return "> 0.99";
  return significant(p, 2);
}

/** A number with the given count of significant figures, written without an exponent. */
export function significant(value: number, figures: number): string {
  requireFinite(value, "significant");
  if (value === 0) return "0";
  const exponent = Number(
    Math.abs(value)
      .toExponential(figures - 1)
      .split("e")[1],
  );
  return fixed(roundSignificant(value, figures), Math.max(0, figures - 1 - exponent));
}

/** The nearest number with the given count of significant figures. */
export function roundSignificant(value: number, figures: number): number {
  return Number(value.toPrecision(figures));
}

/** The nearest number with the given count of decimals, as it would be printed. */
export function roundDecimals(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

function groupThousands(digits: string): string {
  if (digits.length < 5) return digits;
  return digits.replace(/\B(?=(\d{3})+$)/g, "\u202f");
}

function requireFinite(value: number, caller: string): void {
  if (!Number.isFinite(value))
    throw new ArgumentError(`${caller}: only a finite number can be shown; received ${value}`);
}
