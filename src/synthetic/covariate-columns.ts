import { ASA_MISSING, BMI_MISSING, CODES } from "./covariates.ts";
import type { DrawnCases } from "./drawn-cases.ts";
import { codedColumn, type ExportColumn, numberColumn, withMissing } from "./export-column.ts";
import { SCLEROSIS_SHARES } from "./technique-steps.ts";

/** Patient, operator, implant and cement: what was known when the cement was mixed. */
export function covariateColumns(drawn: DrawnCases): readonly ExportColumn[] {
  const { bmiMissing, asaMissing } = drawn.covariates;
  const coded = codedMaker(drawn);
  return [
    numberColumn(
      {
        name: "age_years",
        role: "ageYears",
        title: "Age",
        description: "Completed years of age at the operation.",
      },
      "integer",
      "a",
      { minimum: 18, maximum: 110 },
      (row) => String(Math.floor(drawn.operations.ageYears[row] ?? 0)),
    ),
    coded("sex", "sex", "Sex", "Sex of the patient."),
    withMissing(bodyMassIndex(drawn), BMI_MISSING, (row) => bmiMissing[row] ?? 0),
    withMissing(
      coded("asaGrade", "asa_grade", "ASA grade", "Anaesthetic fitness class."),
      ASA_MISSING,
      (row) => asaMissing[row] ?? 0,
    ),
    coded("diagnosis", "diagnosis", "Diagnosis", "Why the knee was replaced."),
    coded("operatorGrade", "operator_grade", "Operator", "Grade of whoever operated."),
    coded("fixation", "fixation", "Fixation", "Which components were cemented."),
    coded("stem", "stem", "Stem", "Whether the tibial component had a stem extension."),
    coded("implantCode", "implant_code", "Implant", "Coded implant; the codes stand for no product."),
    cement(drawn),
    coded("viscosity", "viscosity", "Cement viscosity", "Viscosity class of the cement."),
    codedColumn(
      {
        name: "sclerosis",
        role: "sclerosis",
        title: "Sclerotic bone",
        description: "Hard bone seen at the operation.",
      },
      SCLEROSIS_SHARES,
      (row) => drawn.technique.sclerosis[row] ?? 0,
    ),
  ];
}

function codedMaker({ covariates }: DrawnCases) {
  return (role: keyof typeof CODES, name: string, title: string, description: string) =>
    codedColumn({ name, role, title, description }, CODES[role], (row) => covariates.code[role][row] ?? 0);
}

function bodyMassIndex({ covariates }: DrawnCases): ExportColumn {
  return numberColumn(
    {
      name: "bmi",
      role: "bmi",
      title: "Body-mass index",
      description: "Body-mass index before the operation.",
    },
    "number",
    "kg/m2",
    { minimum: 10, maximum: 80 },
    (row) => ((covariates.bmiTenths[row] ?? 0) / 10).toFixed(1),
  );
}

/** Cement codes come in pairs, with antibiotic and plain, for each viscosity. */
const CEMENTS = CODES.viscosity.flatMap(([, viscosity], place) => [
  [`M${2 * place + 1}`, `cement code M${2 * place + 1}: ${viscosity}, with antibiotic`] as const,
  [`M${2 * place + 2}`, `cement code M${2 * place + 2}: ${viscosity}, plain`] as const,
]);

function cement({ covariates, technique, recording }: DrawnCases): ExportColumn {
  const plain = technique.state.antibioticCement;
  const column = codedColumn(
    {
      name: "cement_code",
      role: "cementCode",
      title: "Cement",
      description: "Coded cement; the codes stand for no product.",
    },
    CEMENTS,
    (row) => 2 * (covariates.code.viscosity[row] ?? 0) + (plain[row] ?? 0),
  );
  // A note that leaves out the antibiotic names no cement either: the code would give the answer away.
  const unnamed = recording.notRecorded.antibioticCement;
  return withMissing(column, [{ value: "nr", label: "not recorded" }], (row) => unnamed[row] ?? 0);
}
