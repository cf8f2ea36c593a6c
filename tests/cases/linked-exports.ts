import type { Findings } from "../../src/base/finding.ts";
import { joinFindings } from "../../src/base/finding-log.ts";
import type { Cases } from "../../src/cases/cases.ts";
import { readCases } from "../../src/cases/read-cases.ts";
import { type Json, STUDY, writeFiles } from "./export-file.ts";

const SIDES = [{ value: "left" }, { value: "right" }];
export const CASE_FIELDS: readonly Json[] = [
  { name: "case", type: "string", role: "caseId" },
  { name: "patient", type: "string", role: "patientId" },
  { name: "side", type: "string", role: "side", categories: SIDES },
  { name: "operated", type: "date", role: "operationDate" },
  { name: "revised", type: "date", role: "revisionDate" },
  { name: "seen", type: "date", role: "lastFollowUpDate" },
];
export const REVISION_FIELDS: readonly Json[] = [
  { name: "knee", type: "string" },
  { name: "side", type: "string", role: "side", categories: SIDES },
  { name: "day", type: "date", role: "revisionDate" },
  {
    name: "reason",
    type: "string",
    role: "revisionReason",
    categories: [{ value: "pain" }, { value: "loosening" }],
  },
];
export const DEATH_FIELDS: readonly Json[] = [
  { name: "person", type: "string" },
  { name: "died", type: "date", role: "deathDate" },
];

/** Two knees of P1 and one of P2. */
export const THREE_KNEES = [
  "K1,P1,left,2015-01-05,,2019-01-01",
  "K2,P1,right,2016-01-05,,2019-01-01",
  "K3,P2,left,2015-03-05,,2019-01-01",
];

export function link(
  holds: string,
  path: string,
  own: string,
  theirs: string,
  fields: readonly Json[],
): Json {
  const foreignKeys = [{ fields: own, reference: { resource: "cases", fields: [theirs] } }];
  return { name: holds, path, holds, schema: { fields, foreignKeys } };
}

const LINES = [{ value: "none" }, { value: "progressive line" }];
export const RADIOGRAPHS = link("radiographs", "radiographs.csv", "knee", "case", [
  { name: "knee", type: "string" },
  { name: "taken", type: "date", role: "radiographDate" },
  { name: "lines", type: "string", role: "radiographFinding", categories: LINES },
]);

/** A descriptor of three knees with second tables. */
export function linkedDescriptor(tables: readonly Json[], caseFields = CASE_FIELDS): Json {
  return {
    name: "linked",
    title: "Linked",
    resources: [{ name: "cases", path: "cases.csv", schema: { fields: caseFields } }, ...tables],
    study: STUDY,
  };
}

export const REVISIONS = link("revisions", "revisions.csv", "knee", "case", REVISION_FIELDS);
export const REVISIONS_BY_PATIENT = link("revisions", "revisions.csv", "knee", "patient", REVISION_FIELDS);
export const DEATHS = link("deaths", "deaths.csv", "person", "patient", DEATH_FIELDS);

export function linkedFiles(files: {
  readonly revisions?: readonly string[];
  readonly deaths?: readonly string[];
  readonly radiographs?: readonly string[];
  readonly cases?: readonly string[];
}) {
  const { cases = THREE_KNEES, revisions = [], deaths = [], radiographs = [] } = files;
  return {
    "cases.csv": `case,patient,side,operated,revised,seen\n${cases.join("\n")}\n`,
    "revisions.csv": `knee,side,day,reason\n${revisions.join("\n")}\n`,
    "deaths.csv": `person,died\n${deaths.join("\n")}\n`,
    "radiographs.csv": `knee,taken,lines\n${radiographs.join("\n")}\n`,
  };
}

export function readLinked(
  files: Parameters<typeof linkedFiles>[0],
  tables: readonly Json[],
  caseFields?: readonly Json[],
): Promise<Cases> {
  return readCases(writeFiles(linkedFiles(files), linkedDescriptor(tables, caseFields)));
}

/** Reasons written as numbers in the cases, in place of the patient. */
export const NUMBERED_CASES = CASE_FIELDS.map((field) =>
  field.name === "patient" ? { name: "patient", type: "integer", role: "revisionReason" } : field,
);
export const NUMBERED_KNEES = THREE_KNEES.map((knee) => knee.replace(/,P\d,/, ",1,"));
export const NUMBERED_REVISIONS = link("revisions", "revisions.csv", "knee", "case", [
  ...REVISION_FIELDS.slice(0, -1),
  { name: "reason", type: "integer", role: "revisionReason" },
]);

/** What is found where second tables break every rule of a link; `secret` stands wherever a text may. */
export async function linkFaults(secret: string): Promise<Findings> {
  const cases = [`${secret}1,${secret},left,2015-01-05,2018-01-01,2019-01-01`, ...THREE_KNEES];
  const revisions = [
    `${secret}9,left,2017-01-01,pain`,
    ",left,2017-01-01,pain",
    `${secret}1,right,2017-01-01,pain`,
    `${secret}1,left,2017-01-01,pain`,
    `${secret}1,left,2017-01-01,loosening`,
  ];
  const byKnee = await readLinked({ cases, revisions, deaths: [`${secret}9,2018-01-01`] }, [
    REVISIONS,
    DEATHS,
  ]);
  const byPatient = await readLinked({ revisions: ["P1,,2017-01-01,pain"] }, [REVISIONS_BY_PATIENT]);
  const words = ["K1,left,2017-01-01,pain"];
  const differing = await readLinked(
    { cases: NUMBERED_KNEES, revisions: words },
    [REVISIONS],
    NUMBERED_CASES,
  );
  const numbered = await readLinked({ revisions: ["K1,left,2017-01-01,1"] }, [NUMBERED_REVISIONS]);
  return joinFindings(byKnee.findings, byPatient.findings, differing.findings, numbered.findings);
}
