import {
  countKeys,
  exhibitBlock,
  type OwnSection,
  type StudyMaterial,
  shareCell,
  type TableExhibit,
} from "mantle-outcomes";

const TABLE = "still-by-operator";

/** A section of the notebook's own: who kept the leg still? The groups were not assigned by chance. */
export const whoKeptStill: OwnSection = {
  id: "who-kept-still",
  title: "Who kept the leg still",
  exhibits: (material) => [byOperator(material)],
  blocks: (view, figures, facts) => {
    const table = view.table(TABLE);
    // From the cleared table: a number that is hidden for this reader cannot reach the sentence.
    const shares = (table?.rows ?? []).map(({ label, cells }) => `${label}: ${cells[0]?.text}`);
    return [
      {
        kind: "prose",
        text: `Knees that were ${facts.groups[0]}, by who operated – ${shares.join("; ")}. Where these differ, so may much else about the knees that each was given.`,
      },
      ...exhibitBlock(table, figures),
    ];
  },
};

/** Knees of each kind of operator by group. Every cell names its counts, and every sum its parts. */
function byOperator({ cases, compared, facts }: StudyMaterial): TableExhibit {
  const operator = operatorOf(cases);
  const patient = patientOf(cases);
  const group = compared.observations.group?.codes ?? [];
  const places = [...compared.rows.keys()];
  const count = (key: string, isCounted: (place: number) => boolean) => {
    const rows = places.filter(isCounted).map((place) => compared.rows[place] ?? 0);
    return { key, units: rows.length, persons: new Set(rows.map(patient)).size };
  };
  const groups = facts.groups.map((label, at) =>
    count(countKeys.group(label), (place) => group[place] === at),
  );
  const rows = [...new Set([...compared.rows].map(operator))].sort().map((label) => {
    const isBy = (place: number) => operator(compared.rows[place] ?? 0) === label;
    const parts = groups.map((_, at) =>
      count(`operator/${label}/${at}`, (place) => isBy(place) && group[place] === at),
    );
    return { label, whole: count(`operator/${label}`, isBy), parts };
  });
  return {
    kind: "table",
    id: TABLE,
    title: "Knees of each kind of operator, by group",
    columns: [
      { id: "operator", label: "Operator" },
      ...facts.groups.map((label, at) => ({ id: `group-${at}`, label, align: "end" as const })),
    ],
    rows: rows.map(({ label, whole, parts }) => ({
      label,
      cells: parts.map((part) => shareCell(part, whole)),
    })),
    relations: [
      ...rows.map(({ whole, parts }) => ({ total: whole, parts })),
      ...groups.map((total, at) => ({ total, parts: rows.flatMap(({ parts }) => parts[at] ?? []) })),
    ],
  };
}

function operatorOf(cases: StudyMaterial["cases"]): (row: number) => string {
  const column = cases.columns.get(cases.fieldOfRole.get("operatorGrade") ?? "");
  if (column?.kind !== "code")
    throw new Error("the export does not say who operated; leave this section out");
  return (row) =>
    column.missing[row] === 0 ? (column.labels[column.values[row] ?? 0] ?? "") : "not recorded";
}

function patientOf(cases: StudyMaterial["cases"]): (row: number) => string {
  const column = cases.columns.get(cases.fieldOfRole.get("patientId") ?? "");
  if (column?.kind !== "text")
    throw new Error("the export does not say whose knees they are; leave this section out");
  return (row) => column.values[row] ?? "";
}
