import { existsSync, readFileSync } from "node:fs";
import { percent } from "../../src/base/display.ts";
import type { Cell, TableExhibit } from "../../src/disclosure/exhibit.ts";
import { countText } from "./number-text.ts";

const FILE = new URL("../../tests/simulation/cox-coverage.json", import.meta.url);

interface Coverage {
  readonly question: string;
  readonly seed: number;
  readonly knees: number;
  readonly frailtySd: number;
  readonly volumeSd: number;
  readonly table: readonly {
    readonly design: string;
    readonly method: string;
    readonly planted: number;
    readonly replicates: number;
    readonly meanRevisions: number;
    readonly bias: number;
    readonly spread: number;
    readonly meanStandardError: number;
    readonly held: number;
    readonly coverage: number;
    readonly monteCarloError: number;
  }[];
}

const COLUMNS = [
  { id: "method", label: "Variance" },
  { id: "planted", label: "Planted ratio", align: "end" },
  { id: "bias", label: "Mean log ratio less planted", align: "end" },
  { id: "spread", label: "Standard deviation of the log ratio", align: "end" },
  { id: "error", label: "Mean standard error", align: "end" },
  { id: "held", label: "Intervals that hold it", align: "end" },
  { id: "coverage", label: "Share", align: "end" },
  { id: "alarms", label: "False alarms", align: "end" },
  { id: "monteCarlo", label: "Monte Carlo standard error", align: "end" },
] as const;

/** How often intervals of planted hazard ratios hold them, from the simulation kept in tests/simulation; none without its file. */
export function coxCoverageTables(): readonly TableExhibit[] {
  if (!existsSync(FILE)) return [];
  const coverage = JSON.parse(readFileSync(FILE, "utf8")) as Coverage;
  const { table } = coverage;
  const designs = [...new Set(table.map(({ design }) => design))];
  return [
    {
      kind: "table",
      id: "cox-coverage",
      title: `95 % intervals of planted hazard ratios, ${countText(coverage.knees)} knees`,
      columns: COLUMNS,
      rows: designs.flatMap((design) => {
        const own = table.filter((row) => row.design === design);
        const revisions = countText(own[0]?.meanRevisions ?? 0);
        return [
          { label: `${design}; ${revisions} revisions on average`, heading: true, cells: [] },
          ...own.map((row) => ({ label: row.method, indent: 1, cells: cellsOf(row) })),
        ];
      }),
      notes: [
        coverage.question,
        ...clusterNotes(coverage),
        `${countText(table[0]?.replicates ?? 0)} draws of invented knees for each design. Seed ${String(coverage.seed)}; standard deviation of the log hazard between surgeons ${coverage.frailtySd} where they choose, 0 elsewhere, of the log volume ${coverage.volumeSd}.`,
        "Read from tests/simulation/cox-coverage.json; the script beside it draws the knees again.",
      ],
    },
  ];
}

function cellsOf(row: Coverage["table"][number]): Cell[] {
  return [
    String(row.planted),
    row.bias.toFixed(3).replace("-", "−"),
    row.spread.toFixed(3),
    row.meanStandardError.toFixed(3),
    countText(row.held),
    percent(row.coverage, 1),
    row.planted === 1 ? percent(1 - row.coverage, 1) : "",
    percent(row.monteCarloError, 1),
  ].map((text): Cell => ({ kind: "text", text }));
}

/** What surgeons who choose do to each variance, over all designs, so that no design has to be searched for. */
function clusterNotes({ table }: Coverage): string[] {
  const chosen = table.filter(({ design }) => design.includes("by surgeon"));
  const methods = [...new Set(chosen.map(({ method }) => method))];
  return methods.map((method) => {
    const shares = chosen.filter((row) => row.method === method).map(({ coverage }) => coverage);
    return `Chosen by surgeon, ${method}: ${percent(Math.min(...shares), 1)} to ${percent(Math.max(...shares), 1)} of intervals hold the planted ratio; 95 % would be right.`;
  });
}
