import type { CoxExample } from "./cox-examples.ts";

/**
 * The likelihood of gamma frailties of variance θ as it is written in books, for one covariate, strata and late entries: the
 * integral over each cluster's frailty by the trapezoid rule, the steps of the baseline raised until they stay (EM). Events of one
 * tick share its step (Breslow). Less the likelihood of the steps alone, so that it meets the partial likelihood at θ = 0.
 */
export function naiveFrailty({ columns, matrix }: CoxExample): {
  readonly at: (beta: number, theta: number) => number;
  readonly maximum: () => { readonly beta: number; readonly theta: number; readonly value: number };
} {
  const { exit, event, entry, stratum, cluster } = columns;
  const x = matrix.columns[0]?.values ?? new Float64Array(0);
  const rows = [...matrix.rows.keys()];
  const codes = Array.from(cluster?.codes ?? []);
  const clusters = [...new Set(codes)];
  const place = (row: number) => stratum?.codes[row] ?? 0;
  const ticks = [
    ...new Set(rows.filter((row) => event[row] !== 0).map((row) => `${place(row)} ${exit[row]}`)),
  ].map((key) => {
    const [own = 0, tick = 0] = key.split(" ").map(Number);
    const isHere = (row: number) => place(row) === own;
    return {
      atRisk: rows.filter((row) => isHere(row) && (entry?.[row] ?? -1) < tick && (exit[row] ?? 0) >= tick),
      events: rows.filter((row) => isHere(row) && event[row] !== 0 && exit[row] === tick).length,
    };
  });
  const failed = rows.filter((row) => event[row] !== 0);
  const eventsOf = clusters.map((code) => failed.filter((row) => codes[row] === code).length);
  const clusterOf = codes.map((code) => clusters.indexOf(code));
  let steps = ticks.map(({ events }) => events / rows.length);

  const at = (beta: number, theta: number) => {
    const r = rows.map((row) => Math.exp(beta * (x[row] ?? 0)));
    const expectedOf = () => {
      const expected = clusters.map(() => 0);
      ticks.forEach(({ atRisk }, k) => {
        for (const row of atRisk) {
          const own = clusterOf[row] ?? 0;
          expected[own] = (expected[own] ?? 0) + (r[row] ?? 0) * (steps[k] ?? 0);
        }
      });
      return expected;
    };
    for (let round = 0; round < 2_000; round += 1) {
      const z = expectedOf().map((own, c) => (1 / theta + (eventsOf[c] ?? 0)) / (1 / theta + own));
      const next = ticks.map(
        ({ atRisk, events }) =>
          events / atRisk.reduce((sum, row) => sum + (z[clusterOf[row] ?? 0] ?? 0) * (r[row] ?? 0), 0),
      );
      const moved = Math.max(...next.map((step, k) => Math.abs(step / (steps[k] ?? 1) - 1)));
      steps = next;
      if (moved < 1e-14) break;
    }
    const integrals = expectedOf().map((own, c) => Math.log(integral(eventsOf[c] ?? 0, own, theta)));
    const jumps = ticks.map(({ events }, k) => events * (Math.log((steps[k] ?? 1) / events) + 1));
    return sum(integrals) + sum(jumps) + sum(failed.map((row) => beta * (x[row] ?? 0)));
  };

  const maximum = () => {
    let best = { beta: 0, theta: 0.5, value: at(0, 0.5) };
    for (let side = 0.5; side > 1e-6; ) {
      const next = [-1, 0, 1]
        .flatMap((a) =>
          [-1, 0, 1].map((b) => ({ beta: best.beta + a * side, theta: best.theta * Math.exp(b * side) })),
        )
        .map(({ beta, theta }) => ({ beta, theta, value: at(beta, theta) }))
        .reduce((most, one) => (one.value > most.value ? one : most), best);
      if (next === best) side /= 2;
      else best = next;
    }
    return best;
  };
  return { at, maximum };
}

/** ∫ zᵈ exp(−z E) times the gamma density of mean 1 and variance θ, over log z: the trapezoid rule is as good as exact there. */
function integral(events: number, expected: number, theta: number): number {
  const shape = 1 / theta;
  const width = 0.02;
  let [whole, all] = [0, 0];
  for (let u = -60; u < 8; u += width) {
    const density = Math.exp(shape * (u - Math.exp(u)));
    all += density;
    whole += density * Math.exp(events * u - expected * Math.exp(u));
  }
  return whole / all;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
