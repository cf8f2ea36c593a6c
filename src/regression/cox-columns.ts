import { type Answer, computed, type NotComputed, notComputed } from "../base/answer.ts";
import type { SymmetricMatrix } from "../numeric/symmetric-matrix.ts";
import type { Reference } from "../survival/few-clusters.ts";
import type { SameDayRule } from "./cox-hazard.ts";
import type { CoxMaximum, NotEstimable } from "./cox-maximum.ts";
import type { CoxColumn, HazardRatio, TermTest } from "./cox-result.ts";
import type { CoxRows } from "./cox-rows.ts";
import { separatedColumn } from "./cox-separated.ts";
import { fewestFreedom, quadraticTest, type TestGround } from "./cox-tests.ts";
import type { ModelMatrix } from "./model-matrix.ts";

/** Every column of the model in the caller's units, with its ratio or the reason why there is none. */
export function coxColumns(
  rows: CoxRows,
  found: CoxMaximum,
  covariance: SymmetricMatrix,
  matrix: ModelMatrix,
  /** By place among the columns estimated. */
  referenceOf: (place: number) => Reference | undefined,
  { sameDay, level }: { readonly sameDay: SameDayRule; readonly level: number },
): CoxColumn[] {
  return rows.columns.map(({ name, scale }, column) => {
    const term =
      matrix.terms.find(({ from, columns }) => column >= from && column < from + columns)?.name ?? name;
    const at = found.estimated.indexOf(column);
    const refused = found.notEstimable.get(column);
    if (refused?.reason === "separation") {
      return {
        column: name,
        term,
        hazardRatio: refusalOf(rows, refused),
        separation: separatedColumn(rows, sameDay, found, column, refused.sign, level),
      };
    }
    if (refused !== undefined) return { column: name, term, hazardRatio: refusalOf(rows, refused) };
    const logRatio = found.beta[at]! / scale;
    return {
      column: name,
      term,
      hazardRatio: ratioOf(logRatio, Math.sqrt(covariance[at]![at]!) / scale, referenceOf(at)),
    };
  });
}

function ratioOf(
  logRatio: number,
  standardError: number,
  reference: Reference | undefined,
): Answer<HazardRatio> {
  if (reference === undefined || !(standardError > 0)) {
    return notComputed("no-variance", "the clusters leave no spread in this coefficient");
  }
  const { quantile, p, degreesOfFreedom } = reference;
  const statistic = logRatio / standardError;
  const limit = (side: number) => Math.exp(logRatio + side * quantile * standardError);
  const [ratio, lower, upper] = [Math.exp(logRatio), limit(-1), limit(1)];
  if (!(Number.isFinite(ratio) && Number.isFinite(upper))) {
    return notComputed(
      "too-large",
      "the ratio or its limit is too large a number to write; measure the column in other units",
    );
  }
  return computed({
    logRatio,
    standardError,
    ratio,
    lower,
    upper,
    statistic,
    p: p(statistic),
    ...(degreesOfFreedom !== null && { degreesOfFreedom }),
  });
}

export function refusalOf(rows: CoxRows, refused: NotEstimable): NotComputed {
  switch (refused.reason) {
    case "constant":
      return notComputed("constant", "not estimable: the column is the same in every row");
    case "same-at-risk":
      return notComputed(
        "same-at-risk",
        "not estimable: the column does not vary among those at risk at any event",
      );
    case "collinear": {
      const names = refused.with.map((column) => `"${rows.columns[column]!.name}"`).join(", ");
      return notComputed("collinear", `not estimable: the column is a combination of ${names}`);
    }
    case "separation":
      return notComputed("separation", "not estimable: separation (one side has no event)");
  }
}

/** Wald test of the columns of each term together. */
export function termTests(
  found: CoxMaximum,
  covariance: SymmetricMatrix,
  matrix: ModelMatrix,
  ground: TestGround,
  /** By place among the columns estimated; where scores were corrected for their own part. */
  freedoms?: readonly number[],
): TermTest[] {
  return matrix.terms.map(({ name, from, columns }) => {
    const own = Array.from({ length: columns }, (_, k) => from + k);
    if (own.some((column) => found.notEstimable.get(column)?.reason === "separation")) {
      return {
        term: name,
        wald: notComputed("separation", "a column of the term is not estimable: separation"),
      };
    }
    const places = own.map((column) => found.estimated.indexOf(column)).filter((at) => at >= 0);
    const block = places.map((j) => places.map((k) => covariance[j]![k]!));
    return {
      term: name,
      wald: quadraticTest(
        places.map((at) => found.beta[at]!),
        block,
        { ...ground, ...fewestFreedom(freedoms && places.map((at) => freedoms[at]!)) },
      ),
    };
  });
}
