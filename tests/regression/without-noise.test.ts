import { describe, expect, it } from "vitest";
import { coxRegression } from "../../src/regression/cox-regression.ts";
import type { ModelMatrix } from "../../src/regression/model-matrix.ts";

/** Every cluster holds the same rows in each group, so clusters share nothing and their variance is exactly 0. */
function alike(clusters: number, exits: readonly number[]) {
  const rows = Array.from({ length: clusters }, (_, cluster) =>
    [0, 1].flatMap((group) =>
      exits.map((exit, at) => ({ cluster, group, exit: exit + group, event: at % 2 })),
    ),
  ).flat();
  const matrix: ModelMatrix = {
    rows: Int32Array.from(rows.keys()),
    columns: [{ name: "second", values: Float64Array.from(rows, ({ group }) => group) }],
    terms: [{ name: "group", kind: "category", from: 0, columns: 1, reference: "first" }],
    lost: [],
  };
  const columns = {
    exit: rows.map(({ exit }) => exit),
    event: rows.map(({ event }) => event),
    cluster: { codes: rows.map(({ cluster }) => cluster), word: "surgeon" },
  };
  return { columns, matrix };
}

describe("a variance between clusters that share nothing", () => {
  it.each([
    [3, [3, 7, 11]],
    [7, [2, 5, 9, 14]],
    [31, [1, 4, 6, 8, 13]],
  ])("of %i clusters is said to be none, not printed as rounding errors", (clusters, exits) => {
    // Closed form: each cluster's score is the same share of a sum that is 0.
    const { columns, matrix } = alike(clusters, exits);
    const fit = coxRegression(columns, matrix);
    if (!fit.computed) throw new Error(fit.code);
    expect(fit.columns[0]?.hazardRatio).toMatchObject({ computed: false, code: "no-variance" });
    const model = coxRegression(columns, matrix, { variance: "model" });
    expect(model.computed && model.columns[0]?.hazardRatio.computed).toBe(true);
  });
});
