import type { Cleared } from "./cleared.ts";

/**
 * Marks a value as cleared. Only for what disclosure control itself has made.
 *
 * This is the one place where the brand is given: `mapCleared` and `disclose` are the doors to it.
 */
export function markCleared<Value>(value: Value): Cleared<Value> {
  // The brand exists for the compiler alone, so nothing but a cast can give it.
  return value as Cleared<Value>;
}

/**
 * A value made from a cleared one, cleared as well.
 *
 * The function sees cleared values only. It must not bring in numbers from anywhere else: the compiler cannot
 * check that.
 *
 * @example
 * const titles = mapCleared(exhibit, ({ title }) => title);
 */
export function mapCleared<From, To>(cleared: Cleared<From>, change: (value: From) => To): Cleared<To> {
  return markCleared(change(cleared));
}
