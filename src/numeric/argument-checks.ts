import { ArgumentError } from "../base/errors.ts";

/** Refuses NaN and the infinities. */
export function requireFinite(where: string, name: string, value: number): void {
  if (!Number.isFinite(value))
    throw new ArgumentError(`${where}: ${name} must be a finite number; received ${value}`);
}

/** Refuses what is not a finite number above 0. */
export function requirePositive(where: string, name: string, value: number): void {
  if (!Number.isFinite(value) || value <= 0) {
    throw new ArgumentError(`${where}: ${name} must be a finite number above 0; received ${value}`);
  }
}

/** Refuses what is not a whole number from 0 up. */
export function requireCount(where: string, name: string, value: number): void {
  if (!Number.isSafeInteger(value) || value < 0) {
    throw new ArgumentError(`${where}: ${name} must be a whole number from 0 up; received ${value}`);
  }
}

/** Refuses a probability outside [0, 1]. */
export function requireProbability(where: string, name: string, value: number): void {
  // Written so that NaN fails as well.
  if (!(value >= 0 && value <= 1)) {
    throw new ArgumentError(`${where}: ${name} must lie between 0 and 1; received ${value}`);
  }
}

/** Refuses a probability of exactly 0 or 1, where a quantile has no finite value. */
export function requireInnerProbability(where: string, name: string, value: number): void {
  if (!(value > 0 && value < 1)) {
    throw new ArgumentError(`${where}: ${name} must lie strictly between 0 and 1; received ${value}`);
  }
}

/** Refuses a confidence level outside (0, 1), and says so when a percentage was meant. */
export function requireLevel(where: string, level: number): void {
  if (level > 0 && level < 1) return;
  const advice = level > 1 && level < 100 ? ` (write ${level / 100} for ${level} %)` : "";
  throw new ArgumentError(`${where}: level must lie strictly between 0 and 1; received ${level}${advice}`);
}
