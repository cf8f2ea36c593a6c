import { existsSync, readFileSync } from "node:fs";
import { percent } from "../../src/base/display.ts";
import type { Cell, TableExhibit } from "../../src/disclosure/exhibit.ts";
import { countText } from "./number-text.ts";

const FILE = new URL("../../tests/simulation/clustered-level.json", import.meta.url);

interface Simulation {
  readonly question: string;
  readonly seed: number;
  readonly knees: number;
  readonly frailtySd: number;
  readonly volumeSd: number;
  readonly level: number;
  readonly table: readonly {
    readonly surgeons: number;
    readonly users?: number;
    readonly method: string;
    readonly replicates: number;
    readonly meanRevisions: number;
    readonly rejected: number;
    readonly share: number;
    readonly monteCarloError: number;
  }[];
}

/** How often tests reject when the technique does nothing, from the simulation kept in tests/simulation; none without its file. */
export function simulationTables(): readonly TableExhibit[] {
  if (!existsSync(FILE)) return [];
  const simulation = JSON.parse(readFileSync(FILE, "utf8")) as Simulation;
  const designs = [...new Set(simulation.table.map(designOf))];
  return [
    {
      kind: "table",
      id: "clustered-level",
      title: `Rejections at ${percent(simulation.level, 0)} where the technique does nothing, ${countText(simulation.knees)} knees`,
      columns: [
        { id: "method", label: "Test" },
        { id: "replicates", label: "Draws", align: "end" },
        { id: "rejected", label: "Rejected", align: "end" },
        { id: "share", label: "Share", align: "end" },
        { id: "error", label: "Monte Carlo standard error", align: "end" },
      ],
      rows: designs.flatMap((design) => [
        { label: design, heading: true, cells: [] },
        ...simulation.table
          .filter((row) => designOf(row) === design)
          .map((row) => ({
            label: row.method,
            indent: 1,
            cells: [
              countText(row.replicates),
              countText(row.rejected),
              percent(row.share, 1),
              percent(row.monteCarloError, 1),
            ].map((text): Cell => ({ kind: "text", text })),
          })),
      ]),
      notes: [
        simulation.question,
        ...rangeNote("Forms that take knees as independent", simulation, (method) =>
          /independent/.test(method),
        ),
        ...rangeNote("Clustered forms", simulation, (method) => /clustered/.test(method)),
        ...rangeNote(
          "Those among them that reports use for differences, means and rates",
          simulation,
          (method) => /its freedom/.test(method),
        ),
        `Invented knees. Seed ${String(simulation.seed)}; standard deviation of the log hazard between surgeons ${simulation.frailtySd}, of the log volume ${simulation.volumeSd}.`,
        "Read from tests/simulation/clustered-level.json; the script beside it draws the knees again.",
      ],
    },
  ];
}

/** The least and the largest share over all designs, so that no design has to be searched for. */
function rangeNote(
  words: string,
  { table, level }: Simulation,
  among: (method: string) => boolean,
): string[] {
  const shares = table.filter(({ method }) => among(method)).map(({ share }) => share);
  if (shares.length === 0) return [];
  const [least, most] = [Math.min(...shares), Math.max(...shares)];
  return [
    `${words} reject in ${percent(least, 1)} to ${percent(most, 1)} of draws, depending on the design; ${percent(level, 0)} would be right.`,
  ];
}

function designOf({ surgeons, users, meanRevisions }: Simulation["table"][number]): string {
  const use = users === undefined ? "" : `, ${users} of whom use the technique`;
  return `${surgeons} surgeons${use}; ${countText(meanRevisions)} revisions on average`;
}
