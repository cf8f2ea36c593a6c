import type { Answer } from "../../base/answer.ts";
import type { Cell, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import { adjustForMultiplicity } from "../../planning/adjust-for-multiplicity.ts";
import type { AdjustedModel, StudyEstimates } from "../estimates/estimates.ts";
import { firstOver } from "../estimates/first-over.ts";
import type { StudyFacts } from "../facts.ts";
import { periodWords } from "../words.ts";
import { noCell, textCell } from "./cells.ts";
import { periodYears } from "./hazard-ratios.ts";

interface Comparison {
  readonly label: string;
  readonly p: Answer<{ readonly p: number }>;
}

/** Every declared comparison with its p, and what p is worth among all that were planned. */
export function comparisonsExhibit(estimates: StudyEstimates, facts: StudyFacts): TableExhibit {
  const planned = plannedHere(estimates, facts);
  const elsewhere = Math.max(0, facts.comparisons - planned.length);
  const periods = byPeriod(estimates, facts);
  return {
    kind: "table",
    id: "comparisons",
    title: "The comparisons counted",
    columns: [
      { id: "comparison", label: "Comparison" },
      { id: "p", label: "p", align: "end" },
      { id: "holm", label: "p after Holm", align: "end" },
      { id: "discovery", label: "p for the share of false findings", align: "end" },
    ],
    rows: [
      {
        label: `Planned over all years: ${facts.comparisons}, of which here: ${planned.length}`,
        heading: true,
        cells: [],
      },
      ...comparisonRows(planned, elsewhere),
      ...(periods.length === 0
        ? []
        : [
            { label: `By declared period: ${periods.length}`, heading: true, cells: [] },
            ...comparisonRows(periods, 0),
          ]),
    ],
    notes: [
      `p of the hazard ratio, ${estimates.adjusted.adjusted.computed ? "adjusted" : "of the groups alone"}; of the exact ratio of rates where there is no model. Holm 1979; Benjamini and Hochberg 1995. Each heading is a family of its own.`,
      ...(elsewhere > 0
        ? [
            `The plan counts ${elsewhere} more in other reports. They stand here as if they had shown nothing (p = 1), so their own p can only lower what is printed.`,
          ]
        : []),
      ...([...planned, ...periods].some(({ p }) => !p.computed)
        ? ["One that could not be computed counts in its family as if it had shown nothing (p = 1)."]
        : []),
      "Other measures, other fits and other tests in this copy are looks at the same comparisons and are not counted.",
    ],
  };
}

function plannedHere(estimates: StudyEstimates, facts: StudyFacts): Comparison[] {
  const model = modelInUse(estimates);
  return estimates.rateRatios.map(({ groups: [, other], comparison }) => {
    const label = `${facts.groups[0]} over ${facts.groups[other]}`;
    if (!model.computed) return { label, p: comparison };
    return { label, p: firstOver(model.fit.columns, estimates.adjusted.groupTerm, facts.groups, other) };
  });
}

function byPeriod(estimates: StudyEstimates, facts: StudyFacts): Comparison[] {
  const model = modelInUse(estimates);
  if (model.computed && model.byPeriod.computed) {
    const { periods } = model.byPeriod;
    return facts.groups.slice(1).flatMap((other, at) =>
      periods.map(({ after, upTo, columns }) => ({
        label: `${facts.groups[0]} over ${other}, ${periodYears(after, upTo, facts)}`,
        p: firstOver(columns, estimates.adjusted.groupTerm, facts.groups, at + 1),
      })),
    );
  }
  const spans = estimates.rates.periods.filter(({ group }) => group === facts.groups[0]);
  return estimates.periodRatios.flatMap(({ groups: [, other], byPeriod: found }) =>
    found.map((p, at) => ({
      label: `${facts.groups[0]} over ${facts.groups[other]}, ${periodWords(spans[at]?.fromYear ?? 0, spans[at]?.toYear ?? null)}`,
      p,
    })),
  );
}

function modelInUse({ adjusted: { adjusted, alone } }: StudyEstimates): Answer<AdjustedModel> {
  return adjusted.computed ? adjusted : alone;
}

function comparisonRows(comparisons: readonly Comparison[], elsewhere: number): TableRow[] {
  // One that was planned counts, whether or not it could be computed: the others do not get cheaper.
  const own = comparisons.map(({ p }) => (p.computed ? p.p : 1));
  const all = [...own, ...Array.from({ length: elsewhere }, () => 1)];
  const { adjusted: holm } = adjustForMultiplicity(all, { method: "holm" });
  const { adjusted: discovery } = adjustForMultiplicity(all, { method: "false-discovery-rate" });
  return comparisons.map(({ label, p }, at): TableRow => {
    if (!p.computed) return { label, indent: 1, cells: [noCell(p), textCell(""), textCell("")] };
    const worth = [p.p, holm[at] ?? 1, discovery[at] ?? 1];
    return { label, indent: 1, cells: worth.map((one): Cell => ({ kind: "pValue", p: one, restsOn: [] })) };
  });
}
