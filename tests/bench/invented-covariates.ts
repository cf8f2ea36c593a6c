import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { randomStreams } from "../../src/base/random-streams.ts";
import type { ModelMatrix } from "../../src/regression/model-matrix.ts";

const SEED = 20_240_902;
const COVARIATES = 10;
const BINARY = 5;

const fileOf = (folder: string, at: number) => join(folder, `covariate-${at + 1}.int32`);

/** Ten covariates in whole numbers, five of them yes or no, which Node and R read from the same files. */
export function writeCovariates(folder: string, rows: number): void {
  const stream = randomStreams(SEED).stream("bench covariates");
  for (let at = 0; at < COVARIATES; at += 1) {
    const values = new Int32Array(rows);
    for (let row = 0; row < rows; row += 1) values[row] = stream.below(at < BINARY ? 2 : 100);
    writeFileSync(fileOf(folder, at), values);
  }
}

export function readCovariates(folder: string): ModelMatrix {
  const columns = Array.from({ length: COVARIATES }, (_, at) => {
    const bytes = readFileSync(fileOf(folder, at));
    const whole = new Int32Array(bytes.buffer, bytes.byteOffset, bytes.length / Int32Array.BYTES_PER_ELEMENT);
    return { name: `covariate ${at + 1}`, values: Float64Array.from(whole) };
  });
  const rows = new Int32Array(columns[0]?.values.length ?? 0);
  for (let row = 0; row < rows.length; row += 1) rows[row] = row;
  return {
    rows,
    columns,
    terms: columns.map(({ name }, from) => ({ name, kind: "number", from, columns: 1 })),
    lost: [],
  };
}
