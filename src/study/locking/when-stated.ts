import type { LockState } from "./lock-state.ts";

/** What may be said of when a part of the plan was stated: only an unchanged lock shows that it stood beforehand. */
export function whenStated({ state }: LockState): string {
  switch (state) {
    case "as locked":
      return "set beforehand";
    case "not locked":
      return "stated in the plan, which was not locked";
    case "changed since it was locked":
      return "stated in the plan, which was changed after it was locked";
  }
}
