import { UsageError } from "../base/errors.ts";
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
 * @throws UsageError `censoring-rule-not-allowed`.
 */
export function requireCensoringRule(
  descriptor: ExportDescriptor,
  { censoring }: Pick<Endpoint, "censoring">,
): void {
  const { revisionCapture, deathCapture, dataCut } = descriptor.study;
  if (censoring === "lastContact") return;
  if (revisionCapture !== "national" || deathCapture !== "national") {
    throw new UsageError(
      "censoring-rule-not-allowed",
      `endpoint: following to the data cut ("${censoring}") needs revisionCapture and deathCapture "national"; the export states ` +
        `"${revisionCapture}" and "${deathCapture}"; use censoring "lastContact"`,
    );
  }
  if (dataCut === undefined) {
    throw new UsageError(
      "data-cut-not-stated",
      `endpoint: censoring at the data cut ("${censoring}") needs study.dataCut in the descriptor; state it, or use "lastContact"`,
    );
  }
}
