import { ASA_MISSING, BMI_MISSING, CODES, type CodeShares, type Covariates } from "./covariates.ts";
import { codedColumn, dateColumn, type ExportColumn, textColumn, withMissing } from "./export-column.ts";
import type { Operations } from "./operations.ts";
import {
  DATA_CUT,
  FIRST_OPERATION_DATE,
  LAST_OPERATION_DATE,
  REASONS,
  type Reason,
} from "./planted-truth.ts";
import type { RandomStreams } from "./random-draws.ts";
import { LOOSENED_COMPONENTS, NO_DAY, type Recording } from "./recording.ts";
import type { Surgeons } from "./surgeons.ts";
import type { Technique } from "./technique-choice.ts";
import { techniqueColumns } from "./technique-columns.ts";
import { SCLEROSIS_SHARES } from "./technique-steps.ts";

/** Everything drawn for one export. */
export interface DrawnCases {
  readonly operations: Operations;
  readonly surgeons: Surgeons;
  readonly covariates: Covariates;
  readonly technique: Technique;
  readonly recording: Recording;
}

/** The word that stands in every row, and survives when rows are copied out of the file. */
export const INVENTED_WORD = "invented";

/** The fields of the export in the order of the file. */
export function exportColumns(drawn: DrawnCases, streams: RandomStreams): readonly ExportColumn[] {
  return [
    ...identityColumns(drawn),
    ...patientColumns(drawn),
    ...implantColumns(drawn),
    ...techniqueColumns(drawn.technique, drawn.recording, streams),
    ...outcomeColumns(drawn.recording),
    codedColumn(
      { name: "invented", title: "Invented row", description: "Says in every row that it describes nobody." },
      [[INVENTED_WORD, "invented: describes no person"]],
      () => 0,
    ),
  ];
}

function identityColumns({ operations, surgeons }: DrawnCases): readonly ExportColumn[] {
  const { knees, patients, patient, surgeon, right, operationDay } = operations;
  const knee = coder("K", knees, 6);
  const person = coder("P", patients, 5);
  const operator = coder("S", surgeons.count, 2);
  const unit = coder("C", surgeons.centres, 1);
  const sides = [
    ["left", "left knee"],
    ["right", "right knee"],
  ] as const;
  const operated = { required: true, minimum: FIRST_OPERATION_DATE, maximum: LAST_OPERATION_DATE };
  return [
    textColumn(naming("case_id", "caseId", "Knee", "Coded number of the knee."), knee, { unique: true }),
    textColumn(
      naming(
        "patient_id",
        "patientId",
        "Patient",
        "Coded number of the patient; both knees of a patient carry it.",
      ),
      (row) => person(patient[row] ?? 0),
    ),
    codedColumn(naming("side", "side", "Side", "Side of the knee."), sides, (row) => right[row] ?? 0),
    textColumn(naming("centre", "centre", "Centre", "Coded centre."), (row) =>
      unit(surgeons.centre[surgeon[row] ?? 0] ?? 0),
    ),
    textColumn(
      naming("surgeon", "surgeon", "Surgeon", "Coded surgeon who answers for the operation."),
      (row) => operator(surgeon[row] ?? 0),
    ),
    dateColumn(
      naming("operation_date", "operationDate", "Operation date", "Day of the primary operation."),
      operationDay,
      { constraints: operated },
    ),
  ];
}

function patientColumns({ operations, covariates }: DrawnCases): readonly ExportColumn[] {
  const { code, bmiTenths, bmiMissing, asaMissing } = covariates;
  const age: ExportColumn = {
    field: {
      ...naming("age_years", "ageYears", "Age", "Completed years of age at the operation."),
      ...{ type: "integer", unit: "a", constraints: { required: true, minimum: 18, maximum: 110 } },
    },
    cell: (row) => String(Math.floor(operations.ageYears[row] ?? 0)),
  };
  const bmi: ExportColumn = {
    field: {
      ...naming("bmi", "bmi", "Body-mass index", "Body-mass index before the operation."),
      ...{ type: "number", unit: "kg/m2", constraints: { minimum: 10, maximum: 80 } },
    },
    cell: (row) => ((bmiTenths[row] ?? 0) / 10).toFixed(1),
  };
  const asa = fromList(
    CODES.asaGrade,
    code.asaGrade,
    "asa_grade",
    "asaGrade",
    "ASA grade",
    "Anaesthetic fitness class.",
  );
  return [
    age,
    fromList(CODES.sex, code.sex, "sex", "sex", "Sex", "Sex of the patient."),
    withMissing(bmi, BMI_MISSING, (row) => bmiMissing[row] ?? 0),
    withMissing(asa, ASA_MISSING, (row) => asaMissing[row] ?? 0),
    fromList(
      CODES.diagnosis,
      code.diagnosis,
      "diagnosis",
      "diagnosis",
      "Diagnosis",
      "Why the knee was replaced.",
    ),
  ];
}

function implantColumns({ covariates, technique, recording }: DrawnCases): readonly ExportColumn[] {
  const { code } = covariates;
  const cements = CODES.viscosity.flatMap(([, label], place) => [
    [`M${2 * place + 1}`, `cement code M${2 * place + 1}: ${label}, with antibiotic`] as const,
    [`M${2 * place + 2}`, `cement code M${2 * place + 2}: ${label}, plain`] as const,
  ]);
  const cement = codedColumn(
    naming("cement_code", "cementCode", "Cement", "Coded cement; the codes stand for no product."),
    cements,
    (row) => 2 * (code.viscosity[row] ?? 0) + (technique.state.antibioticCement[row] ?? 0),
  );
  // A note without the antibiotic names no cement either: the code would give the answer away.
  const noCement = recording.notRecorded.antibioticCement;
  return [
    fromList(
      CODES.operatorGrade,
      code.operatorGrade,
      "operator_grade",
      "operatorGrade",
      "Operator",
      "Grade of whoever operated.",
    ),
    fromList(
      CODES.fixation,
      code.fixation,
      "fixation",
      "fixation",
      "Fixation",
      "Which components were cemented.",
    ),
    fromList(
      CODES.stem,
      code.stem,
      "stem",
      "stem",
      "Stem",
      "Whether the tibial component had a stem extension.",
    ),
    fromList(
      CODES.implantCode,
      code.implantCode,
      "implant_code",
      "implantCode",
      "Implant",
      "Coded implant; the codes stand for no product.",
    ),
    withMissing(cement, [{ value: "nr", label: "not recorded" }], (row) => noCement[row] ?? 0),
    fromList(
      CODES.viscosity,
      code.viscosity,
      "viscosity",
      "viscosity",
      "Cement viscosity",
      "Viscosity class of the cement.",
    ),
    fromList(
      SCLEROSIS_SHARES,
      technique.sclerosis,
      "sclerosis",
      "sclerosis",
      "Sclerotic bone",
      "Hard bone seen at the operation.",
    ),
  ];
}

const REASON_LABELS: Readonly<Record<Reason, string>> = {
  infection: "infection",
  fracture: "periprosthetic fracture",
  loosening: "aseptic loosening",
  instability: "instability",
  wear: "wear of the insert",
  malalignment: "malalignment",
  pain: "pain without another reason",
  patella: "secondary patella",
};

function outcomeColumns(recording: Recording): readonly ExportColumn[] {
  const { revisionDay, deathDay, emigrationDay, lastDay, reason, component } = recording;
  const reasons = REASONS.map((word) => [word, REASON_LABELS[word]] as const);
  const loosening = REASONS.indexOf("loosening");
  const isRevised = (row: number) => revisionDay[row] !== NO_DAY;
  const isLoose = (row: number) => isRevised(row) && reason[row] === loosening;
  const ends = { maximum: DATA_CUT };
  return [
    dateColumn(
      naming("revision_date", "revisionDate", "Revision date", "Day of the first revision."),
      revisionDay,
      {
        ...{ blankMeans: "not revised", constraints: ends },
      },
    ),
    withMissing(
      codedColumn(
        naming(
          "revision_reason",
          "revisionReason",
          "Reason for revision",
          "Main reason of the first revision.",
        ),
        reasons,
        (row) => reason[row] ?? 0,
      ),
      [{ value: "", label: "not revised" }],
      (row) => (isRevised(row) ? 0 : 1),
    ),
    withMissing(
      codedColumn(
        naming(
          "loosened_component",
          "loosenedComponent",
          "Loosened component",
          "Component found loose at a revision for aseptic loosening.",
        ),
        LOOSENED_COMPONENTS,
        (row) => component[row] ?? 0,
      ),
      [{ value: "", label: "not revised for aseptic loosening" }],
      (row) => (isLoose(row) ? 0 : 1),
    ),
    dateColumn(naming("death_date", "deathDate", "Date of death", "Day of death."), deathDay, {
      ...{ blankMeans: "not known to have died", constraints: ends },
    }),
    dateColumn(
      naming("emigration_date", "emigrationDate", "Date of emigration", "Day of moving abroad."),
      emigrationDay,
      {
        ...{ blankMeans: "not known to have moved abroad", constraints: ends },
      },
    ),
    dateColumn(
      naming(
        "last_follow_up_date",
        "lastFollowUpDate",
        "Last follow-up",
        "Last day on which a revision would have been seen: death, moving abroad or the data cut.",
      ),
      lastDay,
      { constraints: { required: true, ...ends } },
    ),
  ];
}

type Role = NonNullable<Parameters<typeof textColumn>[0]["role"]>;

function naming(name: string, role: Role, title: string, description: string) {
  return { name, role, title, description };
}

function fromList(
  codes: CodeShares,
  places: Uint8Array,
  ...[name, role, title, description]: Parameters<typeof naming>
) {
  return codedColumn(naming(name, role, title, description), codes, (row) => places[row] ?? 0);
}

/** Codes such as K000001: a letter and the place counted from 1, all of one length. */
function coder(letter: string, count: number, shortest: number): (place: number) => string {
  const width = Math.max(shortest, String(count).length);
  return (place) => letter + String(place + 1).padStart(width, "0");
}
