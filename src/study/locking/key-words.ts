import type { EligibilityRule } from "../../cohort/cohort.ts";
import type { Endpoint } from "../../cohort/endpoint.ts";
import type { RateBand } from "../../survival/rate-table.ts";
import type { FeasibilityRules } from "../feasibility/rules.ts";
import type { Adjuster, StudyPlan } from "../plan/plan.ts";

/** Keys of the parts that several places of a plan share. */
type PartKey =
  | Exclude<keyof EligibilityRule | keyof Endpoint | keyof Adjuster | keyof RateBand, number>
  | keyof FeasibilityRules
  | "step"
  | "labels"
  | "done"
  | "notDone"
  | "groups"
  | "revisionFor"
  | "death"
  | "status"
  | "one"
  | "many"
  | "early"
  | "late"
  | "per1000"
  | "source"
  | "bands"
  | "strata"
  | SettingKey
  | "ratioThatMatters";

/** Keys of the settings in results.json that no plan has. */
type SettingKey = "timeUnit" | "word" | "perYear" | "by" | "cause" | "rules" | "outcomes" | "sources";

/** What each key of a plan is called where its changes are listed. */
const KEY_WORDS: Readonly<Record<keyof StudyPlan | PartKey, string>> = {
  id: "folder name",
  title: "title",
  question: "question",
  export: "export",
  eligibility: "who is studied",
  exposure: "what is compared",
  endpoint: "what is counted",
  eventWords: "words for the event",
  years: "years",
  periods: "ends of the rate periods",
  clusters: "clusters",
  covariates: "covariate table",
  adjusters: "adjusters",
  smallestDifferenceThatMatters: "smallest difference that matters",
  groupsAreOrdered: "groups in order",
  weighting: "second log-rank test",
  expectedRates: "expected rates",
  lossDays: "days without contact that count as lost",
  level: "level of intervals",
  plannedComparisons: "comparisons planned",
  feasibility: "feasibility",
  label: "name",
  field: "field",
  oneOf: "codes kept",
  from: "from",
  to: "to",
  missing: "where missing",
  step: "step",
  labels: "names of the groups",
  done: "done",
  notDone: "not done",
  groups: "groups",
  event: "event",
  competing: "competing outcomes",
  censoring: "end of follow-up without an outcome",
  revisionFor: "reasons for revision",
  death: "death",
  status: "status",
  one: "one",
  many: "several",
  settled: "settled",
  reason: "reason",
  curve: "smooth curve",
  reference: "compared with",
  per1000: "per 1000",
  early: "early",
  late: "late",
  source: "source",
  bands: "rates",
  sex: "sex",
  fromAge: "from age",
  toAge: "to age",
  fromYear: "from year",
  toYear: "to year",
  per100: "per 100",
  strata: "strata",
  ratioThatMatters: "ratio that matters",
  timeUnit: "unit of time",
  word: "word",
  perYear: "number in a year",
  by: "by",
  cause: "event",
  rules: "rules",
  outcomes: "outcomes",
  sources: "sources",
  power: "chance at which a ratio counts as seen",
  leastRecorded: "least share recorded",
  leastShare: "least share of the smaller group",
  margin: "least share of either to have both",
  nearlyAll: "share that counts as nearly all",
  leastWithin: "least share at levels that have both",
  largestRatio: "largest ratio anybody would believe",
  fixedFrom: "share of variance from which a step is fixed within surgeon",
  leastSurgeons: "fewest surgeons who mostly do the less frequent",
  intraclass: "intraclass correlation within surgeon",
  yearsInBlock: "calendar years in a period of operations",
  longestYears: "years beyond which nobody waits",
};

/** A key in words; a key that this version does not know stands for itself. */
export function keyWords(key: string): string {
  return Object.hasOwn(KEY_WORDS, key) ? KEY_WORDS[key as keyof typeof KEY_WORDS] : `“${key}”`;
}
