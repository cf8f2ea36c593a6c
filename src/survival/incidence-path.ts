/** Cumulative incidence of one cause at each step of one group, with its variance. */
export interface IncidencePath {
  readonly incidence: Float64Array;
  /** Share with neither the cause nor a competing event, after the step. */
  readonly eventFree: Float64Array;
  readonly variance: Float64Array;
}

/**
 * Aalen–Johansen estimate and its Greenwood-type (delta) variance, in one pass.
 *
 * With F the incidence, S the share event-free just before u, n at risk, d events and k events of the cause:
 *
 *   Var F(t) = Σ (F(t) − F(u))² d / (n (n − d)) + Σ S² k (n − k) / n³ − 2 Σ (F(t) − F(u)) S k / n²
 *
 * The sums over (F(t) − F(u)) are carried forward by the growth of F, never expanded into F² ΣA − 2F ΣB + ΣC:
 * late on, with few at risk, the expanded terms are large and cancel.
 */
export function incidencePath(
  atRisk: ArrayLike<number>,
  wanted: ArrayLike<number>,
  competing: ArrayLike<number>,
): IncidencePath {
  const steps = atRisk.length;
  const path = {
    incidence: new Float64Array(steps),
    eventFree: new Float64Array(steps),
    variance: new Float64Array(steps),
  };
  let [incidence, eventFree] = [0, 1];
  let [hazard, hazardGap, hazardGapSquared] = [0, 0, 0];
  let [cross, crossGap, own] = [0, 0, 0];
  for (let step = 0; step < steps; step++) {
    const n = atRisk[step] ?? 0;
    const k = wanted[step] ?? 0;
    const d = k + (competing[step] ?? 0);
    if (d > 0 && n > 0) {
      const growth = (eventFree * k) / n;
      hazardGapSquared += growth * (2 * hazardGap + growth * hazard);
      hazardGap += growth * hazard;
      crossGap += growth * cross;
      // After the last at risk has had an event nothing grows any more: its term is 0 × ∞, and 0 is right.
      const left = leftOver(n, d);
      hazard += left > 0 ? d / (n * left) : 0;
      cross += growth / n;
      own += (growth * eventFree * (n - k)) / (n * n);
      incidence += growth;
      eventFree *= left / n;
    }
    path.incidence[step] = incidence;
    path.eventFree[step] = eventFree;
    path.variance[step] = Math.max(0, hazardGapSquared + own - 2 * crossGap);
  }
  return path;
}

/** At risk without an event. Weighted sums that should meet may miss by a rounding error: that is nobody. */
export function leftOver(atRisk: number, events: number): number {
  const left = atRisk - events;
  return left > atRisk * 1e-12 ? left : 0;
}
