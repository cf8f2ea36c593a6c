import { FEW_CLUSTERS } from "../survival/few-clusters.ts";
import type { CoxFit, FitNote } from "./cox-result.ts";
import type { ScoreSpread } from "./cox-variance.ts";

/** Below this many events for a coefficient ordinary fits mislead. */
export const EVENTS_PER_PARAMETER = 10;

/** What a reader must know before quoting the fit. */
export function fitNotes(
  { settings, fit, eventsPerParameter }: Pick<CoxFit, "settings" | "fit" | "eventsPerParameter">,
  spread: ScoreSpread | undefined,
): FitNote[] {
  const notes: FitNote[] = [];
  if (!fit.converged) {
    notes.push({
      code: "not-converged",
      text: `the iteration stopped without finding the highest likelihood (${fit.reason}, ${fit.iterations} steps); do not quote its numbers`,
      plain: "the iteration stopped without finding the highest likelihood; do not quote its numbers",
    });
  }
  if (eventsPerParameter < EVENTS_PER_PARAMETER) {
    notes.push({
      code: "few-events-per-parameter",
      text: `${Math.floor(eventsPerParameter * 10) / 10} events per coefficient: ratios are pulled away from 1 and limits are too narrow; a penalised fit is safer`,
      plain:
        "few events for each coefficient: ratios are pulled away from 1 and limits are too narrow; a penalised fit is safer",
    });
  }
  const clusters = Math.min(...settings.clusters);
  if (settings.clusters.length > 0 && clusters < FEW_CLUSTERS) {
    const words = settings.clusteredBy.join(", ");
    const small = "the variance between few clusters still tends to be too small";
    const own = "each ratio refers to t on the degrees of freedom that the clusters leave it";
    const [text, plain] =
      settings.smallSample === "shares"
        ? [own, own]
        : [`limits use t on ${clusters - 1}, and ${small}`, `limits use t, and ${small}`];
    notes.push({
      code: "few-clusters",
      text: `${clusters} clusters (${words}): ${text}`,
      plain: `few clusters (${words}): ${plain}`,
    });
  }
  if (spread?.twoWay !== undefined && spread.twoWay.taken !== "two-way") {
    const shown = settings.clusteredBy[spread.twoWay.taken === "first" ? 0 : 1];
    const text = `first + second − both is not positive definite; the larger of the two one-way variances is shown (${shown})`;
    notes.push({ code: "two-way-not-positive", text, plain: text });
  }
  if (settings.variance !== "model" && settings.weights !== "sampling") {
    const text =
      "the likelihood-ratio and score tests take rows as independent; the Wald and robust score tests do not";
    notes.push({ code: "model-based-tests", text, plain: text });
  }
  return notes;
}
