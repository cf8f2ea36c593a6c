import { OPEN } from "../../cases/proposal/type-guess.ts";
import { keyWords } from "../locking/key-words.ts";

/** Places of a plan where a person still has to decide, as lines that name each. */
export function undecidedPlaces(plan: unknown): readonly string[] {
  return placesIn(plan, []).map(
    (place) => `  ${place.join(".")}: ${words(place)} is still to be decided ("${OPEN}")`,
  );
}

function placesIn(value: unknown, place: readonly string[]): (readonly string[])[] {
  if (value === OPEN) return [place];
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, part]) => placesIn(part, [...place, key]));
}

/** The keys that lead there, in words; numbers are places in a list. */
function words(place: readonly string[]): string {
  return place
    .filter((key) => !/^\d+$/.test(key))
    .map(keyWords)
    .join(", ");
}
