import { count, fixed } from "../../src/base/display.ts";
import type { Tolerance } from "../../tests/reference/tolerance.ts";
import type { MaybeNumber } from "./check.ts";

const FIGURES = 10;
const SUPERSCRIPTS = ["⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"];

/** Ten significant figures; whole numbers as they are; very large and very small ones as a power of ten. */
export function numberText(value: MaybeNumber): string {
  if (value === null) return "none";
  if (!Number.isFinite(value)) return "not a number";
  const size = Math.abs(value);
  if (size < 1e15 && Number.isInteger(value)) return fixed(value, 0);
  if (size < 1e-4 || size >= 1e9) return powerText(value, FIGURES);
  const whole = Math.floor(size);
  return fixed(value, FIGURES - (whole === 0 ? leadingZeros(size) : String(whole).length));
}

/** "3 × 10⁻¹⁶", or "0". */
export function differenceText(difference: number): string {
  if (difference === 0) return "0";
  return Number.isFinite(difference) ? powerText(difference, 1) : "no common value";
}

export function toleranceText({ relative, absolute }: Tolerance): string {
  if (relative === 0 && absolute === 0) return "exact";
  const both = [
    relative > 0 ? powerText(relative, 1) : "",
    absolute > 0 ? `${powerText(absolute, 1)} absolute` : "",
  ];
  return both.filter((text) => text !== "").join(" or ");
}

export function countText(value: number): string {
  return count(value);
}

function powerText(value: number, figures: number): string {
  const [mantissa = "", exponent = "0"] = Math.abs(value)
    .toExponential(figures - 1)
    .split("e");
  const digits = [...String(Math.abs(Number(exponent)))].map((digit) => SUPERSCRIPTS[Number(digit)] ?? "");
  const power = `10${Number(exponent) < 0 ? "⁻" : ""}${digits.join("")}`;
  const sign = value < 0 ? "−" : "";
  return figures === 1 && mantissa === "1" ? `${sign}${power}` : `${sign}${mantissa} × ${power}`;
}

/** Decimals needed for ten figures count from the first that is not 0: minus the zeros behind the point. */
function leadingZeros(size: number): number {
  return 1 + Number(size.toExponential().split("e")[1]);
}
