import { type PlanFault, STILL_OPEN } from "../../base/plan-fault.ts";
import { OPEN } from "../../cases/proposal/type-guess.ts";
import { keyWords } from "../locking/key-words.ts";

type Place = readonly string[];

/** Decisions that a person still has to make, one fault for each part of the plan with all that is open in it. */
export function undecidedFaults(plan: unknown): readonly PlanFault[] {
  const open = openPlaces(plan);
  const parts = [...new Set(open.map(([part = ""]) => part))];
  return parts.map((part) => {
    const within = open.filter(([first]) => first === part).map((place) => place.slice(1));
    const named = listed(within);
    const what = `decide ${keyWords(part)}${named === "" ? "" : `: ${named}`}`;
    return { code: STILL_OPEN, place: part, what };
  });
}

/** Whether something stands open at a place of the plan, or inside it. */
export function isUndecided(plan: unknown, path: readonly PropertyKey[]): boolean {
  const within = path.reduce<unknown>(
    (value, key) => (isOpenable(value) ? (value as Record<PropertyKey, unknown>)[key] : undefined),
    plan,
  );
  return openPlaces(within).length > 0;
}

function openPlaces(value: unknown, place: Place = []): Place[] {
  if (value === OPEN) return [place];
  if (!isOpenable(value)) return [];
  return Object.entries(value).flatMap(([key, part]) => openPlaces(part, [...place, key]));
}

function isOpenable(value: unknown): value is object {
  return typeof value === "object" && value !== null;
}

/** The keys that lead to the open places, in words: "event (name, reasons for revision), …". */
function listed(places: readonly Place[]): string {
  // Numbers are places in a list.
  const named = places.map((place) => place.filter((key) => !/^\d+$/.test(key)));
  const keys = [...new Set(named.flatMap(([key]) => (key === undefined ? [] : [key])))];
  return keys
    .map((key) => {
      const inner = listed(named.filter(([first]) => first === key).map((place) => place.slice(1)));
      return inner === "" ? keyWords(key) : `${keyWords(key)} (${inner})`;
    })
    .join(", ");
}
