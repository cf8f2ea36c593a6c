import { planError } from "../base/plan-error.ts";
import type { ExportDescriptor } from "../cases/descriptor.ts";
import type { Endpoint } from "./endpoint.ts";

/** Net risk needs no deaths; crude risk does. */
export type AllowedRisks =
  | { readonly net: true; readonly crude: true }
  | { readonly net: true; readonly crude: false; readonly code: string; readonly because: string };

/**
 * Which risks an export can give, by what it says about the capture of deaths.
 *
 * Crude risk asks how many are revised before they die. Where deaths are not captured everywhere, some of the dead are
 * taken as still at risk, and the crude risk comes out too high without anyone seeing it.
 */
export function allowedRisks(descriptor: ExportDescriptor): AllowedRisks {
  const { deathCapture } = descriptor.study;
  if (deathCapture === "national") return { net: true, crude: true };
  const how =
    deathCapture === "ownUnit"
      ? "the export sees deaths in its own unit only"
      : "the capture of deaths is unknown";
  return {
    net: true,
    crude: false,
    code: "deaths-not-captured",
    because: `${how}, so the share revised before death cannot be given`,
  };
}

/**
 * Refuses to follow everyone to the data cut where a revision or a death could have been missed.
 *
 * @param place of the endpoint in the plan.
 * @throws UsageError `censoring-rule-not-allowed` or `data-cut-not-stated`.
 */
export function requireCensoringRule(
  descriptor: ExportDescriptor,
  { censoring }: Pick<Endpoint, "censoring">,
  place = "endpoint",
): void {
  const at = `${place}.censoring`;
  const { revisionCapture, deathCapture, dataCut } = descriptor.study;
  if (censoring === "lastContact") return;
  if (revisionCapture !== "national" || deathCapture !== "national") {
    const what =
      `following to the data cut ("${censoring}") needs revisionCapture and deathCapture "national"; the export states ` +
      `"${revisionCapture}" and "${deathCapture}"; use "lastContact"`;
    throw planError([{ code: "censoring-rule-not-allowed", place: at, what }]);
  }
  if (dataCut === undefined) {
    const what = `follow-up to the data cut ("${censoring}") needs study.dataCut in the dictionary; state it, or use "lastContact"`;
    throw planError([{ code: "data-cut-not-stated", place: at, what }]);
  }
}
