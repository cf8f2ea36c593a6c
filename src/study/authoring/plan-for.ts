import type { EligibilityRule } from "../../cohort/cohort.ts";
import type { Endpoint, Outcome } from "../../cohort/endpoint.ts";
import type { RateBand } from "../../survival/rate-table.ts";
import type { Exposure } from "../../technique/exposure.ts";
import type { Adjuster, StudyPlan } from "../plan/plan.ts";
import type { ExportWords } from "./export-words.ts";

/** A plan that can only name what one export has. Without an export of its own, any plan. */
export type PlanFor<Words extends ExportWords> = StudyPlan &
  (ExportWords extends Words ? unknown : NarrowPlan<Words>);

/** The parts of a plan in which names of the export stand. */
interface NarrowPlan<Words extends ExportWords> {
  readonly eligibility: readonly RuleFor<Words>[];
  readonly exposure: ExposureFor<Words>;
  readonly endpoint: Endpoint & {
    readonly event: OutcomeFor<Words>;
    readonly competing: readonly OutcomeFor<Words>[];
  };
  readonly covariates: readonly AnyField<Words>[];
  readonly adjusters?: readonly AdjusterFor<Words>[];
  readonly expectedRates?: {
    readonly bands: readonly (RateBand & { readonly sex: CodeOf<Words, "role:sex"> })[];
  };
  readonly feasibility?: { readonly strata?: readonly CodeField<Words>[] };
}

type CodeField<Words extends ExportWords> = keyof Words["codes"] & string;
type AnyField<Words extends ExportWords> =
  | Words["numbers"]
  | Words["days"]
  | Words["texts"]
  | CodeField<Words>;
type CodeOf<Words extends ExportWords, Field> =
  Field extends CodeField<Words> ? Words["codes"][Field] : string;

type RuleFor<Words extends ExportWords> = Pick<EligibilityRule, "label" | "missing"> &
  (
    | Bounds<Words["numbers"], number>
    | Bounds<Words["days"], string>
    | { [Field in CodeField<Words>]: Codes<Field, Words["codes"][Field]> }[CodeField<Words>]
    | Codes<Words["texts"], string>
  );

interface Bounds<Field, Bound> {
  readonly field: Field;
  readonly from?: Bound;
  readonly to?: Bound;
  readonly oneOf?: never;
}

interface Codes<Field, Code> {
  readonly field: Field;
  readonly oneOf: readonly Code[];
  readonly from?: never;
  readonly to?: never;
}

type ExposureFor<Words extends ExportWords> =
  | (Extract<Exposure, { readonly step: unknown }> & { readonly step: Words["steps"] })
  | {
      [Field in CodeField<Words>]: {
        readonly field: Field;
        readonly groups: readonly Words["codes"][Field][];
      };
    }[CodeField<Words>]
  | { readonly field: Words["texts"]; readonly groups: readonly string[] };

type OutcomeFor<Words extends ExportWords> =
  | Extract<Outcome, { readonly death: true }>
  | { readonly label: string; readonly revisionFor: readonly Words["reasons"][] | "any" | "other" }
  | { readonly label: string; readonly status: Words["statuses"] };

type AdjusterFor<Words extends ExportWords> = Omit<Adjuster, "field" | "curve" | "reference"> &
  (
    | { readonly field: Words["numbers"] | Words["days"]; readonly curve?: true; readonly reference?: never }
    | {
        [Field in CodeField<Words>]: {
          readonly field: Field;
          readonly reference?: Words["codes"][Field];
          readonly curve?: never;
        };
      }[CodeField<Words>]
    | { readonly field: Words["texts"]; readonly reference?: string; readonly curve?: never }
  );
