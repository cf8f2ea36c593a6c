import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { cumulativeHazard } from "../../../src/survival/cumulative-hazard.ts";
import { referenceRecord } from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, seriesCheck, valueCheck } from "../check.ts";
import { atEvents, columnsOf, curveOf, present, type Row } from "../curves.ts";
import { REFERENCES } from "../references.ts";
import { countChecks, curveChecks, limitChecks } from "./curve-checks.ts";

export function sixMercaptopurine(): Example {
  const reference = record("km.freireich.6mp");
  const columns = columnsOf("freireich.csv", { keep: (row: Row) => row.arm === "6-MP" });
  const ours = atEvents(curveOf(columns));
  const { expected, published } = reference;
  const single = (
    what: string,
    values: readonly unknown[],
    theirs: number[],
    figures: number[],
    decimals: number,
  ) =>
    theirs.map((value, at) =>
      valueCheck(`${what}, week ${expected.time[at]}`, values[at], value, toleranceOf(reference), {
        figure: figures[at] ?? 0,
        decimals,
      }),
    );
  const hazard = present(cumulativeHazard(countsByTime(columns)).groups[0], "a hazard");
  const pick = (values: readonly number[]) => values.filter((_, step) => (hazard.eventsAt[step] ?? 0) > 0);
  return {
    title: "Remission of leukaemia in weeks, 6-MP arm (Freireich and others 1963)",
    printedIn: "Klein and Moeschberger, Survival Analysis, table 4.1A",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.survival,
    checks: [
      ...single("Survival", ours.survival, expected.survival, published.figures.survival, 3),
      ...single("Standard error (Greenwood)", ours.standardError, expected.se, published.figures.se, 4),
      ...countChecks(ours, expected),
      ...limitChecks(columns, reference),
      seriesCheck(
        "Cumulative hazard (Nelson–Aalen)",
        pick(hazard.hazard),
        expected.cumulativeHazardNelsonAalen,
        toleranceOf(reference),
      ),
      seriesCheck(
        "Standard error of the cumulative hazard",
        pick(hazard.standardError),
        expected.seCumulativeHazard,
        toleranceOf(reference),
      ),
    ],
  };
}

export function placebo(): Example {
  const reference = record("km.freireich.placebo");
  return {
    title: "The same trial, placebo arm: everybody relapsed, the curve ends at 0",
    fromMemory: false,
    reference: REFERENCES.survival,
    checks: curveChecks(columnsOf("freireich.csv", { keep: (row: Row) => row.arm === "placebo" }), reference),
  };
}

export function kaplanAndMeier(): Example {
  const reference = record("km.kaplan_meier_1958");
  const columns = columnsOf("kaplan_meier_1958.csv", { perUnit: 10 });
  const { survival } = atEvents(curveOf(columns));
  return {
    title: "Eight items, four deaths (Kaplan and Meier 1958)",
    printedIn: "Kaplan and Meier 1958, section 2",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.survival,
    checks: [
      seriesCheck("Survival", survival, reference.expected.survival, toleranceOf(reference), {
        figures: reference.published.figures.survival,
        decimals: 4,
      }),
      ...curveChecks(columns, reference).slice(1),
    ],
  };
}

const record = (id: string) => referenceRecord("01_kaplan_meier", id);
