/** Invented rows under several habits of naming and writing, and what is to be guessed of each. */
export interface Habit {
  readonly label: string;
  /** From the plain name of a column to the habit's. */
  readonly names: Readonly<Record<PlainName, string>>;
  readonly delimiter: string;
  readonly date: (iso: string) => string;
  readonly format: string;
  readonly decimalChar: "." | ",";
  readonly words: Readonly<Record<string, string>>;
}

const ROLES = {
  case: "caseId",
  patient: "patientId",
  side: "side",
  hospital: "centre",
  surgeon: "surgeon",
  operated: "operationDate",
  age: "ageYears",
  sex: "sex",
  bmi: "bmi",
  asa: "asaGrade",
  diagnosis: "diagnosis",
  tourniquet: "technique:tourniquet",
  lavage: "technique:pulsedLavage",
  revised: "revisionDate",
  reason: "revisionReason",
  died: "deathDate",
  seen: "lastFollowUpDate",
} as const;
export type PlainName = keyof typeof ROLES;
export const PLAIN_NAMES = Object.keys(ROLES) as PlainName[];

export function roleOf(name: PlainName): string {
  return ROLES[name];
}

const iso = (text: string) => text;
const parts = (text: string) => text.split("-") as [string, string, string];
const dayFirst = (mark: string) => (text: string) => parts(text).reverse().join(mark);
const monthFirst = (text: string) => {
  const [year, month, day] = parts(text);
  return [month, day, year].join("/");
};

function named(...names: readonly string[]): Record<PlainName, string> {
  return Object.fromEntries(PLAIN_NAMES.map((plain, at) => [plain, names[at] ?? ""])) as Record<
    PlainName,
    string
  >;
}

export const HABITS: readonly Habit[] = [
  {
    label: "English in full",
    names: named(
      "case_id",
      "patient_id",
      "side",
      "hospital",
      "surgeon",
      "operation_date",
      "age_at_operation",
      "sex",
      "body_mass_index",
      "asa_grade",
      "primary_diagnosis",
      "tourniquet_used",
      "pulsed_lavage",
      "date_of_revision",
      "reason_for_revision",
      "date_of_death",
      "last_follow_up_date",
    ),
    delimiter: ",",
    date: iso,
    format: "default",
    decimalChar: ".",
    words: {},
  },
  {
    label: "English cut short",
    names: named(
      "CASE_NO",
      "PID",
      "LAT",
      "HOSP",
      "SURG",
      "OP_DT",
      "AGE_YRS",
      "SX",
      "BMI",
      "ASA",
      "DX",
      "TQ",
      "LAVAGE",
      "REV_DT",
      "REV_RSN",
      "DOD",
      "LFU_DT",
    ),
    delimiter: "|",
    date: monthFirst,
    format: "%m/%d/%Y",
    decimalChar: ".",
    words: { left: "L", right: "R", female: "F", male: "M", yes: "Y", no: "N" },
  },
  {
    label: "one word with capitals",
    names: named(
      "recordId",
      "patientNumber",
      "kneeSide",
      "centre",
      "surgeonCode",
      "dateOfSurgery",
      "ageYears",
      "gender",
      "bmi",
      "asaClass",
      "indication",
      "tourniquet",
      "pulseLavage",
      "revisionDate",
      "revisionReason",
      "deathDate",
      "lastContactDate",
    ),
    delimiter: ",",
    date: dayFirst("-"),
    format: "%d-%m-%Y",
    decimalChar: ".",
    words: { yes: "1", no: "0" },
  },
  {
    label: "spreadsheet headings",
    names: named(
      "Case No.",
      "Patient No.",
      "Side (L/R)",
      "Hospital",
      "Consultant",
      "Date of operation",
      "Age (years)",
      "Sex (F/M)",
      "BMI (kg/m²)",
      "ASA score",
      "Diagnosis",
      "Tourniquet used (Y/N)",
      "Lavage",
      "Date of revision",
      "Reason for revision",
      "Date of death",
      "Last seen",
    ),
    delimiter: "\t",
    date: dayFirst("/"),
    format: "%d/%m/%Y",
    decimalChar: ".",
    words: { left: "L", right: "R", female: "F", male: "M", yes: "Yes", no: "No" },
  },
  {
    label: "German",
    names: named(
      "Fallnummer",
      "Patienten-Nr.",
      "Operierte Seite",
      "Klinik",
      "Operateur",
      "OP-Datum",
      "Alter (Jahre)",
      "Geschlecht",
      "BMI",
      "ASA-Klasse",
      "Diagnose",
      "Blutsperre",
      "Spülung",
      "Revisionsdatum",
      "Revisionsgrund",
      "Todesdatum",
      "Letzte Kontrolle",
    ),
    delimiter: ";",
    date: dayFirst("."),
    format: "%d.%m.%Y",
    decimalChar: ",",
    words: { left: "links", right: "rechts", female: "w", male: "m", yes: "ja", no: "nein" },
  },
  {
    label: "French",
    names: named(
      "Numéro de cas",
      "Numéro patient",
      "Côté",
      "Hôpital",
      "Chirurgien",
      "Date d'intervention",
      "Âge (ans)",
      "Sexe",
      "IMC",
      "Score ASA",
      "Diagnostic",
      "Garrot",
      "Lavage pulsé",
      "Date de reprise",
      "Motif de reprise",
      "Date de décès",
      "Date du dernier suivi",
    ),
    delimiter: ";",
    date: dayFirst("/"),
    format: "%d/%m/%Y",
    decimalChar: ",",
    words: { left: "gauche", right: "droite", female: "F", male: "H", yes: "oui", no: "non" },
  },
];

const day = (days: number) => new Date((14_000 + days) * 86_400_000).toISOString().slice(0, 10);

/** The cells of a row before any habit: every tenth knee is revised, every seventh patient died. */
function plainRow(at: number): Record<PlainName, string> {
  return {
    case: `Kq${1000 + at}`,
    patient: `Pq${1000 + (at % 47)}`,
    side: at % 2 === 0 ? "left" : "right",
    hospital: `H${1 + (at % 3)}`,
    surgeon: `S${1 + (at % 5)}`,
    operated: day(11 * at),
    age: String(55 + (at % 30)),
    sex: at % 3 === 0 ? "male" : "female",
    bmi: (22 + (at % 40) / 4).toFixed(2),
    asa: String(1 + (at % 4)),
    diagnosis: at % 9 === 0 ? "rheumatoid" : "osteoarthritis",
    tourniquet: at % 4 === 0 ? "no" : "yes",
    lavage: at % 5 === 0 ? "no" : "yes",
    revised: at % 10 === 0 ? day(11 * at + 700) : "",
    reason: at % 10 === 0 ? "loosening" : "",
    died: at % 7 === 0 ? day(11 * at + 2000) : "",
    seen: day(11 * at + 2500),
  };
}

export const KNEES = 60;

export function exportOf({ names, delimiter, date, decimalChar, words }: Habit): string {
  const dates: readonly PlainName[] = ["operated", "revised", "died", "seen"];
  const written = (name: PlainName, text: string) => {
    if (text === "") return "";
    if (dates.includes(name)) return date(text);
    return name === "bmi" ? text.replace(".", decimalChar) : (words[text] ?? text);
  };
  const lines = Array.from({ length: KNEES }, (_, at) => {
    const row = plainRow(at);
    return PLAIN_NAMES.map((name) => written(name, row[name])).join(delimiter);
  });
  return `${[PLAIN_NAMES.map((name) => names[name]).join(delimiter), ...lines].join("\r\n")}\r\n`;
}
