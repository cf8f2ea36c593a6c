import type { ExportDescriptor, ExportField } from "../cases/descriptor.ts";
import { DATA_CUT, FIRST_OPERATION_DATE, LAST_OPERATION_DATE } from "./planted-truth.ts";
import type { SyntheticSettings } from "./synthetic-options.ts";

/** Stamp of every page, figure and file made from invented cases. */
export const INVENTED_STAMP = "INVENTED DATA: no row describes a person, surgeon, centre or product";

const EXAMPLE = "invented example";

/** Dictionary of an invented export: a Data Package descriptor that says in its title and text what it is. */
export function exportDescriptor(
  settings: SyntheticSettings,
  counts: { readonly patients: number },
  fields: readonly ExportField[],
): ExportDescriptor {
  const { knees, surgeons, centres, seed } = settings;
  return {
    $schema: "https://datapackage.org/profiles/2.0/datapackage.json",
    name: "invented-cemented-knees",
    title: "Invented export of cemented knee replacements",
    description:
      `${INVENTED_STAMP}. ${knees} knees of ${counts.patients} patients, operated by ${surgeons} surgeons in ${centres} centres ` +
      `from ${FIRST_OPERATION_DATE} to ${LAST_OPERATION_DATE}, were drawn with seed ${seed} by the project's generator. ` +
      "README.md states which effects were planted.",
    version: "1.0.0",
    sources: [{ title: "Drawn by the generator in src/synthetic; nothing was observed" }],
    resources: [
      {
        name: "cases",
        path: "cases.csv",
        format: "csv",
        encoding: "utf-8",
        dialect: { delimiter: ",", quoteChar: '"' },
        schema: { fields: [...fields], primaryKey: ["case_id"] },
      },
    ],
    study: {
      invented: true,
      stamp: INVENTED_STAMP,
      unit: { one: "knee", many: "knees" },
      person: { one: "patient", many: "patients" },
      cementedKnees: true,
      dataCut: DATA_CUT,
      revisionCapture: "national",
      deathCapture: "national",
      revisionMeans:
        "The first operation that adds, removes or exchanges any part of the implant; exchange of the insert alone and a secondary patella count",
      exactDates: true,
      governance: {
        purpose: `research (${EXAMPLE})`,
        approval: `none needed: no person is described (${EXAMPLE})`,
        legalBasis: `none needed: no personal data (${EXAMPLE})`,
        retention: `kept with the project (${EXAMPLE})`,
        authors: [`first author (${EXAMPLE})`, `second author (${EXAMPLE})`],
        statisticalReviewer: `statistician (${EXAMPLE})`,
        funding: `none (${EXAMPLE})`,
        conflicts: `none (${EXAMPLE})`,
      },
    },
  };
}
