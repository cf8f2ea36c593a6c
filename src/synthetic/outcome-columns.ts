import { codedColumn, dateColumn, type ExportColumn, withMissing } from "./export-column.ts";
import { DATA_CUT, REASONS, type Reason } from "./planted-truth.ts";
import { LOOSENED_COMPONENTS, NO_DAY, type Recording } from "./recording.ts";

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

const UP_TO_CUT = { maximum: DATA_CUT };

/** Revision, death, moving abroad, and how long the knee was followed. */
export function outcomeColumns(recording: Recording): readonly ExportColumn[] {
  const { revisionDay, deathDay, emigrationDay, lastDay } = recording;
  return [
    dateColumn(
      {
        name: "revision_date",
        role: "revisionDate",
        title: "Revision date",
        description: "Day of the first revision.",
      },
      revisionDay,
      { blankMeans: "not revised", constraints: UP_TO_CUT },
    ),
    ...reasonColumns(recording),
    dateColumn(
      { name: "death_date", role: "deathDate", title: "Date of death", description: "Day of death." },
      deathDay,
      { blankMeans: "not known to have died", constraints: UP_TO_CUT },
    ),
    dateColumn(
      {
        name: "emigration_date",
        role: "emigrationDate",
        title: "Date of emigration",
        description: "Day of moving abroad, after which nothing is seen.",
      },
      emigrationDay,
      { blankMeans: "not known to have moved abroad", constraints: UP_TO_CUT },
    ),
    dateColumn(
      {
        name: "last_follow_up_date",
        role: "lastFollowUpDate",
        title: "Last follow-up",
        description:
          "Last day on which the register saw the patient: death, moving abroad or the data cut, whether or not the knee was revised before.",
      },
      lastDay,
      { constraints: { required: true, ...UP_TO_CUT } },
    ),
  ];
}

function reasonColumns({ revisionDay, reason, component }: Recording): readonly ExportColumn[] {
  const loosening = REASONS.indexOf("loosening");
  const isRevised = (row: number) => revisionDay[row] !== NO_DAY;
  const isLoose = (row: number) => isRevised(row) && reason[row] === loosening;
  const reasons = codedColumn(
    {
      name: "revision_reason",
      role: "revisionReason",
      title: "Reason for revision",
      description: "Main reason of the first revision.",
    },
    REASONS.map((word) => [word, REASON_LABELS[word]] as const),
    (row) => reason[row] ?? 0,
  );
  const components = codedColumn(
    {
      name: "loosened_component",
      role: "loosenedComponent",
      title: "Loosened component",
      description: "Component found loose at a revision for aseptic loosening.",
    },
    LOOSENED_COMPONENTS,
    (row) => component[row] ?? 0,
  );
  return [
    withMissing(reasons, [{ value: "", label: "not revised" }], (row) => (isRevised(row) ? 0 : 1)),
    withMissing(components, [{ value: "", label: "not revised for aseptic loosening" }], (row) =>
      isLoose(row) ? 0 : 1,
    ),
  ];
}
