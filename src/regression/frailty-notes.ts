import { FEW_CLUSTERS } from "../survival/few-clusters.ts";
import { EVENTS_PER_PARAMETER } from "./cox-notes.ts";
import type { FrailtyFit, FrailtyNote } from "./frailty-result.ts";

/** What a reader must know before quoting the fit. */
export function frailtyNotes(
  { settings, clusters, events, variance }: Pick<FrailtyFit, "settings" | "clusters" | "events" | "variance">,
  parameters: number,
): FrailtyNote[] {
  const notes: FrailtyNote[] = [];
  if (events < EVENTS_PER_PARAMETER * parameters) {
    notes.push({
      code: "few-events-per-parameter",
      text: `${Math.floor((10 * events) / parameters) / 10} events per coefficient: ratios are pulled away from 1 and limits are too narrow`,
      plain: "few events for each coefficient: ratios are pulled away from 1 and limits are too narrow",
    });
  }
  if (variance.estimate === 0) {
    const text =
      "the likelihood is highest without a frailty; the ratios are those of a fit without one, and only the upper limit of the variance says anything";
    notes.push({ code: "no-variance-found", text, plain: text });
  }
  if (clusters.count < FEW_CLUSTERS) {
    const limits =
      "limits are normal, take the variance between clusters as known and are too narrow for a column that is the same within each cluster";
    notes.push({
      code: "few-clusters",
      text: `${clusters.count} clusters (${settings.cluster}): ${limits}`,
      plain: `few clusters (${settings.cluster}): ${limits}`,
    });
  }
  if (settings.delayedEntry) {
    const text =
      "frailties are taken as gamma among those who enter; that those of high frailty may have had their event before entering is not undone";
    notes.push({ code: "late-entry", text, plain: text });
  }
  return notes;
}
