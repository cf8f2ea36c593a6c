import { RECORDED_STATES } from "../cases/recorded-state.ts";
import { codedColumn, dateColumn, type ExportColumn, withMissing } from "./export-column.ts";
import type { RandomStreams } from "./random-draws.ts";
import type { Recording } from "./recording.ts";
import { NOT_APPLICABLE, NOT_DONE, type Technique } from "./technique-choice.ts";
import { SYNTHETIC_STEPS, type SyntheticStep } from "./technique-steps.ts";

const NOT_RECORDED = [{ value: "nr", label: "not recorded" }];
const NOT_APPLICABLE_WORD = "na";

/** The technique fields: one for each step, and the day of writing beside the dated ones. */
export function techniqueColumns(
  technique: Technique,
  recording: Recording,
  streams: RandomStreams,
): readonly ExportColumn[] {
  return SYNTHETIC_STEPS.flatMap((spec) => {
    const column = stateColumn(spec, technique, recording, streams);
    const days = recording.recordedOn.get(spec.step);
    if (days === undefined) return [column];
    const naming = {
      name: `${spec.field}_recorded_on`,
      role: `technique:${spec.step}:recordedOn` as const,
      title: `${spec.title}: recorded on`,
      description: `Day on which the field ${spec.field} was written down.`,
    };
    return [column, dateColumn(naming, days, { blankMeans: "step not recorded" })];
  });
}

function stateColumn(
  spec: SyntheticStep,
  technique: Technique,
  recording: Recording,
  streams: RandomStreams,
): ExportColumn {
  const state = technique.state[spec.step];
  const applies = spec.step !== "drilling";
  const codes = applies ? spec.words : [...spec.words, [NOT_APPLICABLE_WORD, "no sclerotic bone"] as const];
  const place = wordPlaces(spec, state, streams);
  const column = codedColumn(
    {
      name: spec.field,
      role: `technique:${spec.step}`,
      title: spec.title,
      description: `${spec.title}, as the operation note says it.`,
    },
    codes,
    (row) => place[row] ?? 0,
  );
  const categories = column.field.categories?.map((category, index) => ({
    ...category,
    state: RECORDED_STATES[stateOfPlace(spec, index)] ?? "notRecorded",
  }));
  const withStates = { ...column, field: { ...column.field, ...(categories && { categories }) } };
  const unrecorded = recording.notRecorded[spec.step];
  return withMissing(withStates, NOT_RECORDED, (row) => unrecorded[row] ?? 0);
}

/** First word done, the others not done, and after them the word for not applicable. */
function stateOfPlace(spec: SyntheticStep, place: number): number {
  if (place >= spec.words.length) return NOT_APPLICABLE;
  return place === 0 ? 0 : NOT_DONE;
}

/** Several words for not done are equally frequent. */
function wordPlaces(spec: SyntheticStep, state: Uint8Array, streams: RandomStreams): Uint8Array {
  const stream = streams.stream(`recording.word.${spec.step}`);
  const notDoneWords = spec.words.length - 1;
  return state.map((place) => {
    const word = notDoneWords > 1 ? stream.below(notDoneWords) : 0;
    if (place === NOT_APPLICABLE) return spec.words.length;
    return place === NOT_DONE ? 1 + word : 0;
  });
}
