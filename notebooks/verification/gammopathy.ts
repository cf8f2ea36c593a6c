import { TIME_UNITS } from "../../src/base/time-unit.ts";
import type { ObservationColumns } from "../../src/survival/observations.ts";
import { codeColumn, numberColumn, referenceRows } from "../../tests/reference/reference-files.ts";

/** Months to malignancy or to death without it, by sex or by three ages. */
export function gammopathy(by: "sex" | "age"): ObservationColumns & { readonly exit: readonly number[] } {
  const rows = referenceRows("mgus2.csv");
  const ages = numberColumn(rows, "age").map((years) => (years < 65 ? 0 : years < 75 ? 1 : 2));
  return {
    exit: numberColumn(rows, "time"),
    event: numberColumn(rows, "event"),
    group:
      by === "sex"
        ? codeColumn(rows, "sex", ["F", "M"])
        : { codes: ages, labels: ["under 65", "65 to 74", "75 and over"] },
    causes: ["malignancy", "death"],
    timeUnit: TIME_UNITS.month,
  };
}

/** Place of the step at or before a time. */
export function stepAt(times: readonly number[], time: number): number {
  return times.findLastIndex((one) => one <= time);
}
