import { expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import { countsByTime } from "../../src/survival/counts-by-time.ts";
import { rowsOf } from "./some-rows.ts";

/** Both causes of the rows below, and the first of them alone. */
export const BOTH = ["cause 1", "cause 2"];
export const REVISION = ["cause 1"];

/** Rows with strata and forty clusters in months, and the same without either. */
const drawn = rowsOf(70, { rows: 300, groups: 2, strata: 2, causes: 2, entries: false, clusters: 40 });
export const rows = { ...drawn, timeUnit: TIME_UNITS.month };
const { stratum: _stratum, cluster: _cluster, ...unlabelled } = rows;
export const plain = unlabelled;
export const counts = countsByTime(rows);
export const unstratified = countsByTime(plain);
export const nobodyLost = { lost: rows.exit.map(() => 0), possible: rows.exit };

/** The settings of curves left alone, and others. */
export const CURVE = { level: 0.95, scale: "log-minus-log" };
export const OTHER_CURVE = { level: 0.9, scale: "log" } as const;

/** What is asked, the kind of what comes back, and every setting that was in force. */
export type Asked = readonly [string, () => unknown, string, unknown];

/** A test for each result: it says what it is and under which settings it was made. */
export function saysItsSettings(asked: readonly Asked[]): void {
  for (const [name, ask, kind, settings] of asked) {
    it(`says what it is and under which settings it was made: ${name}`, () => {
      const result = ask() as { readonly kind?: string; readonly settings?: unknown };
      expect(result.kind).toBe(kind);
      expect(result.settings).toEqual(settings);
    });
  }
}
