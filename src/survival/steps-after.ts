import type { RiskSteps } from "./risk-steps.ts";

/** The steps later than a tick: what those still under observation, or yet to come, go through after it. */
export function stepsAfter(steps: RiskSteps, from: number | undefined): RiskSteps {
  if (from === undefined) return steps;
  const first = steps.time.findIndex((tick) => tick > from);
  const start = first < 0 ? steps.time.length : first;
  const shown = cut(steps.shown, start);
  const leavers = [...shown.events, shown.censored].map((column) =>
    column.reduce((sum, count) => sum + count, 0),
  );
  return {
    group: steps.group,
    cases: leavers.reduce((sum, count) => sum + count, 0),
    time: steps.time.slice(start),
    ...cut(steps, start),
    shown,
  };
}

function cut({ atRisk, events, censored }: RiskSteps["shown"], start: number): RiskSteps["shown"] {
  return {
    atRisk: atRisk.slice(start),
    events: events.map((column) => column.slice(start)),
    censored: censored.slice(start),
  };
}
