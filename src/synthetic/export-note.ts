import { INVENTED_STAMP } from "./export-descriptor.ts";
import {
  CAUSES,
  DATA_CUT,
  DEATH_HAZARD,
  DEMO_SEED,
  EFFECT_WINDOW_ENDS,
  FIRST_OPERATION_DATE,
  LAST_OPERATION_DATE,
  type PlantedEffect,
  type PlantedTruth,
} from "./planted-truth.ts";
import { WRITTEN } from "./recording.ts";
import type { SyntheticSettings } from "./synthetic-options.ts";
import { SCLEROSIS_SHARES, SYNTHETIC_STEPS } from "./technique-steps.ts";

/** Data note of an invented export, written from the values in force so that it cannot say anything else. */
export function exportNote(settings: SyntheticSettings, counts: { readonly patients: number }): string {
  const { planted } = settings;
  const parts = [
    "# Invented cemented knee replacements",
    `> ${INVENTED_STAMP}.`,
    origin(settings, counts),
    "## What was planted",
    "Compare an analysis with these values. An interval should hold the planted value about as often as its level says; with few loosenings it will be wide.",
    effectTable(planted.effects),
    frailtyWords(planted),
    "## Hazards of revision",
    "Net hazards per 1,000 knee-years, on average over everybody at the planted shares of technique:",
    hazardTable(planted),
    hazardWords(),
    "## Technique",
    "Share done, change from the first year of operations to the last, who chooses, and share not recorded:",
    techniqueTable(),
    techniqueWords(),
    "## What is not in it",
    "Age changes the hazard of death; sex, body-mass index, ASA grade, diagnosis, operator, fixation, stem, implant, cement and calendar year change no hazard. Steps other than those above change no hazard. Whether a step was recorded depends on nothing: knees without a record are like the others.",
  ];
  return `${parts.join("\n\n")}\n`;
}

function origin(
  { knees, surgeons, centres, seed }: SyntheticSettings,
  { patients }: { patients: number },
): string {
  const chosen =
    seed === DEMO_SEED ? ", the digits of the data cut, written down before the first result was seen" : "";
  return [
    `${knees} knees of ${patients} invented patients, operated by ${surgeons} invented surgeons in ${centres} invented centres from ${FIRST_OPERATION_DATE} to ${LAST_OPERATION_DATE}; data cut ${DATA_CUT}.`,
    `\`cases.csv\` has one row a knee and says "invented" in every row; \`datapackage.json\` is its dictionary. The draws use seed ${seed}${chosen}. The generator is \`src/synthetic\`; the same seed gives the same bytes.`,
  ].join("\n");
}

function effectTable(effects: readonly PlantedEffect[]): string {
  const [first, second] = EFFECT_WINDOW_ENDS;
  return table(
    ["step", "compared", "cause", `years 0–${first}`, `years ${first}–${second}`, `over ${second} years`],
    effects.map(({ step, state, cause, hazardRatios }) => [
      ...comparison(step, state),
      CAUSE_WORDS[cause],
      ...hazardRatios.map(decimal),
    ]),
  );
}

function frailtyWords(planted: PlantedTruth): string {
  const { surgeonFrailtySd, patientFrailtySd, infectionsLabelledLoosening } = planted;
  return [
    "The ratios hold within surgeon and patient, and technique was chosen without regard to either, to the patient or to other steps.",
    `- Surgeon frailty: standard deviation ${surgeonFrailtySd} of the log hazard, for all causes alike.`,
    `- Patient frailty: standard deviation ${patientFrailtySd} of the log hazard, shared by both knees, for all causes alike.`,
    `- ${percent(infectionsLabelledLoosening)} of revisions for infection are labelled aseptic loosening.`,
  ].join("\n");
}

const CAUSE_WORDS = {
  infection: "infection",
  loosening: "aseptic loosening",
  other: "all other reasons",
} as const;

function hazardTable({ netHazards: { periodEnds, per1000 } }: PlantedTruth): string {
  const last = periodEnds.at(-1) ?? 0;
  return table(
    ["years", ...CAUSES.map((cause) => CAUSE_WORDS[cause])],
    [...periodEnds, Number.POSITIVE_INFINITY].map((end, place) => [
      end === Number.POSITIVE_INFINITY ? `over ${last}` : `${periodEnds[place - 1] ?? 0}–${end}`,
      ...CAUSES.map((cause) => decimal(per1000[cause][place] ?? 0)),
    ]),
  );
}

function hazardWords(): string {
  const { perYearAt65, perYearOfAge, inFirstYear } = DEATH_HAZARD;
  return [
    "A knee's hazard is the planted one times its effects, divided by their population mean, times both frailties, which have mean 1. Those revised early take frailty with them, which lowers the hazards of those left by 2 to 3 % after fifteen years.",
    `Death: ${perYearAt65} · exp(${perYearOfAge.toFixed(2)} · (age − 65)) a year, age advancing, times ${inFirstYear} for a year after each operation; one death for both knees.`,
    "Revisions and deaths are seen wherever they happen until the data cut, except after moving abroad (about 0.4 % of patients).",
  ].join("\n");
}

function techniqueTable(): string {
  return table(
    ["step", "field", "done", "change", "chosen by", "not recorded"],
    SYNTHETIC_STEPS.map((spec) => [
      spec.title,
      `\`${spec.field}\``,
      percent(spec.prevalence),
      spec.drift === 0
        ? "none"
        : `${spec.drift > 0 ? "+" : "−"}${Number((100 * Math.abs(spec.drift)).toPrecision(12))} points`,
      spec.likeness === 0 ? "knee by knee" : `${spec.chosenBy} (${spec.likeness})`,
      percent(spec.notRecorded),
    ]),
  );
}

function techniqueWords(): string {
  const sclerotic = SCLEROSIS_SHARES.slice(1).reduce((sum, [, , share]) => sum + share, 0);
  return [
    "The number beside the chooser is the share of the inclination to choose that is theirs, on the normal scale; the rest differs from knee to knee.",
    `Drilling applies only to sclerotic bone (${percent(sclerotic)} of knees); its shares are of those knees.`,
    `Tourniquet and stillness carry the day on which they were written down. ${percent(WRITTEN.afterRevision)} of the records of revised knees are dated after the revision and must be read as not recorded; what they say is true.`,
  ].join("\n");
}

function comparison(step: string, state: "done" | "notDone"): readonly string[] {
  const spec = SYNTHETIC_STEPS.find((each) => each.step === step);
  const [done = "", ...notDone] = (spec?.words ?? []).map(([, label]) => label);
  const others = notDone.join(" or ");
  return [spec?.title ?? step, state === "done" ? `${done} against ${others}` : `${others} against ${done}`];
}

/** Every digit of a value in force: a rounded ratio would be another ratio. */
function decimal(value: number): string {
  return Number.isInteger(value) ? value.toFixed(1) : String(value);
}

function percent(share: number): string {
  return `${Number((100 * share).toPrecision(12))} %`;
}

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  return [line(head), line(head.map(() => "---")), ...rows.map(line)].join("\n");
}
