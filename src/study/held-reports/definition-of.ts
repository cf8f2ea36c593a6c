import { canonicalJson, contentHash } from "../../base/content-hash.ts";
import { isRecord } from "../../base/is-record.ts";

/** What the facts of a study, and its results.json, say of how its numbers came about. */
interface Defining {
  /** The version that worked them out. */
  readonly mantleVersion: string;
  readonly plan: unknown;
}

/** What may differ in two plans whose numbers of one name are numbers of one thing: who is looked at, and what it is called. */
const NOT_DEFINING = new Set(["id", "title", "question", "export", "eligibility", "covariates"]);

/** Of the settings, what the export adds to the plan; the rest repeats the plan or counts. */
const DEFINING_SETTINGS = ["level", "timeUnit", "groups", "cause", "competing"] as const;

/**
 * A fingerprint of all that makes the numbers of a study what they are: groups in their order, outcome, level, adjusters,
 * clusters, years, periods and the rest.
 *
 * A rule of eligibility or a covariate more changes of whom a number is, not of what. Undefined where nothing is compared: such
 * pages judge by the numbers of now.
 */
export function definitionOf({ mantleVersion, plan, ...settings }: Defining): string | undefined {
  if (!isRecord(plan) || plan.exposure === undefined) return undefined;
  const { clusters, ...others }: Readonly<Record<string, unknown>> = settings;
  return contentHash(
    canonicalJson({
      mantleVersion,
      plan: Object.fromEntries(Object.entries(plan).filter(([name]) => !NOT_DEFINING.has(name))),
      settings: DEFINING_SETTINGS.map((name) => others[name] ?? null),
      clusters: isRecord(clusters) ? (clusters.by ?? null) : null,
    }),
  );
}
