import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { codeColumn, numberColumn, referenceRows } from "../reference/record.ts";

/** Gammopathy data in months by sex, in the 40 invented clusters of the reference scripts. */
export function gammopathyColumns() {
  const rows = referenceRows("mgus2.csv");
  const exit = numberColumn(rows, "time");
  return {
    exit,
    event: numberColumn(rows, "event"),
    causes: ["malignancy", "death"],
    group: codeColumn(rows, "sex", ["F", "M"]),
    cluster: { codes: exit.map((_, row) => row % 40), word: "centre" },
    timeUnit: TIME_UNITS.month,
  };
}
