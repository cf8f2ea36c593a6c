import { capital } from "../../base/words.ts";
import { RECORDED_STATE_WORDS } from "../../cases/recorded-state.ts";
import type { Count, Exhibit, Relation, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import { keyPart } from "../../disclosure/key-part.ts";
import type { Block } from "../../report/block.ts";
import type { GroupFollowUp, RecordedStates, Size, StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { exhibitBlock, picturedBlock } from "../making/exhibit-block.ts";
import type { Section } from "../making/section.ts";
import { article, lossWords } from "../words.ts";
import { countCell, keys, noCell, shareCell, sized } from "./cells.ts";
import { completenessExhibit } from "./completeness.ts";
import { flowExhibit, personsTwice } from "./flow.ts";

/** Who was included, who was not and why, and how long the rest were followed. */
export const included: Section = {
  id: "included",
  title: () => "Who was included",
  exhibits,
  blocks: (view, facts, figures) => [
    ...exhibitBlock(view.flow("flow"), figures),
    ...picturedBlock(view.table("recording"), figures),
    ...exhibitBlock(view.table("follow-up"), figures),
    ...picturedBlock(view.table("completeness"), figures),
    ...captureProse(facts),
  ],
};

function exhibits(estimates: StudyEstimates, facts: StudyFacts): readonly Exhibit[] {
  const flow = flowExhibit(estimates, facts);
  return [
    flow,
    ...recordingExhibit(estimates, facts),
    { ...followUpExhibit(estimates, facts), relations: personsTwice(flow) },
    ...completenessExhibit(estimates, facts),
  ];
}

function recordingExhibit(estimates: StudyEstimates, facts: StudyFacts): readonly Exhibit[] {
  const { recording } = estimates;
  if (recording === undefined) return [];
  const whole = sized("recording/all", {
    units: recording.states.reduce((sum, state) => sum + state.size.units, 0),
    persons: estimates.attrition.at(-1)?.leftPersons ?? 0,
  });
  const states = recording.states.map((state) => sized(keys.group(state.group), state.size));
  const late = recording.writtenLate.map(({ label, size }) => ({
    label: `written late: ${label}`,
    count: sized(`recording/late/${keyPart(label)}`, size),
  }));
  const notRecorded = sized(keys.group(NOT_RECORDED), stateSize(recording, NOT_RECORDED));
  return [
    {
      kind: "table",
      id: "recording",
      title: `How “${recording.title}” was recorded`,
      columns: [
        { id: "state", label: "Recorded as" },
        { id: "number", label: capital(facts.words.unit.many), align: "end" },
      ],
      rows: [
        ...recording.states.map((state, at) => ({
          label: state.label,
          cells: [shareCell(states[at] ?? whole, whole)],
        })),
        ...late.map(({ label, count }) => ({ label, indent: 1, cells: [shareCell(count, whole)] })),
      ],
      notes: [
        `Blank never means no. Not recorded is not compared; it has a rate of its own under “The groups compared”.`,
        ...(recording.recordedAfterRevision > 0
          ? [
              `Written late: written down after the revision, so counted among the not recorded. The words are those that were written.`,
            ]
          : []),
      ],
      relations: [
        { total: whole, parts: states },
        ...(late.length === 0
          ? []
          : [
              neverWritten(
                notRecorded,
                late.map(({ count }) => count),
              ),
            ]),
      ],
      picture: "bars",
    },
  ];
}

const NOT_RECORDED = RECORDED_STATE_WORDS.notRecorded;

function stateSize({ states }: RecordedStates, group: string): Size {
  return states.find((state) => state.group === group)?.size ?? { units: 0, persons: 0 };
}

/** The others not recorded: nobody wrote anything down, ever. */
function neverWritten(total: Count, late: readonly Count[]): Relation {
  const units = late.reduce((left, count) => left - count.units, total.units);
  return { total, parts: [...late, { key: "recording/never", units }] };
}

function followUpExhibit(estimates: StudyEstimates, facts: StudyFacts): TableExhibit {
  return {
    kind: "table",
    id: "follow-up",
    title: "How long they were followed",
    columns: [
      { id: "group", label: "Group" },
      { id: "number", label: capital(facts.words.unit.many), align: "end" },
      { id: "years", label: `${capital(facts.words.unit.one)}-years`, align: "end" },
      { id: "median", label: "Median follow-up, years (quarter to quarter)", align: "end" },
      { id: "completeness", label: "Completeness", align: "end" },
      { id: "lost", label: "Lost", align: "end" },
    ],
    rows: estimates.followUp.map((group) => followUpRow(group)),
    notes: [
      `Median follow-up: what it would have been had nobody died or had ${article(facts.words.event.one)}.`,
      `Completeness: time observed over the time to event, death or data cut. Lost: alive, without the event, and last seen more than ${lossWords(facts)} before the data cut.`,
    ],
  };
}

function followUpRow(group: GroupFollowUp): TableRow {
  const size = sized(keys.group(group.label), group.size);
  const { medianYears, completeness, lost } = group;
  return {
    label: group.label,
    cells: [
      countCell(size),
      { kind: "number", value: group.unitYears, decimals: 0, restsOn: [size] },
      medianYears.computed
        ? medianYears.lowerQuarter !== null && medianYears.upperQuarter !== null
          ? {
              kind: "numbers",
              form: "{0} ({1} to {2})",
              values: [medianYears.median, medianYears.lowerQuarter, medianYears.upperQuarter],
              decimals: 1,
              restsOn: [size],
            }
          : { kind: "number", value: medianYears.median, decimals: 1, restsOn: [size] }
        : noCell(medianYears),
      completeness.computed
        ? { kind: "number", value: 100 * completeness.share, decimals: 1, suffix: " %", restsOn: [size] }
        : noCell(completeness),
      lost.computed ? shareCell(sized(`lost/${keyPart(group.label)}`, lost), size) : noCell(lost),
    ],
  };
}

function captureProse(facts: StudyFacts): Block[] {
  const { study } = facts.descriptor;
  if (study.revisionCapture === "national") return [];
  return [
    {
      kind: "caution",
      text: `${capital(facts.words.event.many)} done elsewhere may not be seen: the export states its capture as “${study.revisionCapture === "ownUnit" ? "own unit only" : "unknown"}”.`,
    },
  ];
}
