import type { ExportDescriptor } from "../cases/descriptor.ts";
import { drawCovariates } from "./covariates.ts";
import type { ExportColumn } from "./export-column.ts";
import { exportColumns } from "./export-columns.ts";
import { exportDescriptor } from "./export-descriptor.ts";
import { exportNote } from "./export-note.ts";
import { drawOperations, type Operations } from "./operations.ts";
import type { PlantedTruth } from "./planted-truth.ts";
import { type RandomStreams, streamsUsedOnce } from "./random-draws.ts";
import { drawRecording } from "./recording.ts";
import { drawRevisionTimes, type RevisionTimes } from "./revision-times.ts";
import { drawSurgeons, type Surgeons } from "./surgeons.ts";
import { type SyntheticOptions, type SyntheticSettings, syntheticSettings } from "./synthetic-options.ts";
import { drawTechnique, type Technique } from "./technique-choice.ts";

/** What was built in and what would have been seen without death, emigration, data cut and faults of recording. */
export interface SyntheticTruth {
  readonly planted: PlantedTruth;
  readonly operations: Operations;
  readonly surgeons: Surgeons;
  readonly technique: Technique;
  readonly revisions: RevisionTimes;
}

/** An invented export: three texts to be written beside each other, and the truth behind them. */
export interface SyntheticExport {
  /** Object of `datapackage.json`. */
  readonly descriptor: ExportDescriptor;
  /** Text of `cases.csv`, in pieces of some thousand rows; each call starts anew. */
  readonly csvChunks: () => Generator<string>;
  /** Text of `README.md`: what was planted. */
  readonly note: string;
  readonly truth: SyntheticTruth;
}

const ROWS_IN_CHUNK = 4096;

/**
 * Invents an export of cemented knee replacements whose true effects are known.
 *
 * Rates, deaths and technique resemble published registers; no row was observed. The same options give the
 * same bytes on every machine. Each draw has a stream of its own: a changed effect leaves patients,
 * operations and technique as they were, and a larger export begins with the rows of a smaller one.
 *
 * @example
 * const { descriptor, csvChunks, truth } = syntheticExport({ knees: 500, seed: 1 });
 * [...csvChunks()].join("").split("\n").length; // 502: a header, the knees, and the end of the last line
 */
export function syntheticExport(options: SyntheticOptions = {}): SyntheticExport {
  const settings = syntheticSettings(options);
  const streams = streamsUsedOnce(settings.seed);
  const truth = drawTruth(settings, streams);
  const { operations, surgeons, technique, revisions } = truth;
  const covariates = drawCovariates(operations, surgeons, streams);
  const recording = drawRecording(operations, technique, revisions, settings.planted, streams);
  const columns = exportColumns({ operations, surgeons, covariates, technique, recording }, streams);
  const { knees, patients } = operations;
  const fields = columns.map(({ field }) => field);
  return {
    descriptor: exportDescriptor(settings, { patients }, fields),
    csvChunks: () => csvChunks(columns, knees),
    note: exportNote(settings, { patients }),
    truth,
  };
}

/** The truth of `syntheticExport` with the same options, without covariates, recording and file. */
export function syntheticTruth(options: SyntheticOptions = {}): SyntheticTruth {
  const settings = syntheticSettings(options);
  return drawTruth(settings, streamsUsedOnce(settings.seed));
}

function drawTruth(settings: SyntheticSettings, streams: RandomStreams): SyntheticTruth {
  const { planted } = settings;
  const surgeons = drawSurgeons(settings, streams);
  const operations = drawOperations(settings, surgeons, streams);
  const technique = drawTechnique(operations, surgeons, streams);
  const revisions = drawRevisionTimes(operations, surgeons, technique, planted, streams);
  return { planted, operations, surgeons, technique, revisions };
}

// No cell holds a delimiter, quote or line break, so none is quoted.
function* csvChunks(columns: readonly ExportColumn[], rows: number): Generator<string> {
  yield `${columns.map(({ field }) => field.name).join(",")}\n`;
  const cells = new Array<string>(columns.length).fill("");
  for (let from = 0; from < rows; from += ROWS_IN_CHUNK) {
    const lines = Array.from({ length: Math.min(ROWS_IN_CHUNK, rows - from) }, (_, offset) => {
      // Joined, not added up: strings that grow by addition leave a tree a row to the garbage collector.
      columns.forEach((column, place) => {
        cells[place] = column.cell(from + offset);
      });
      return cells.join(",");
    });
    yield `${lines.join("\n")}\n`;
  }
}
