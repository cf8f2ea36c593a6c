import { capital } from "../../base/words.ts";
import type { Count, Exhibit, FlowExhibit, TableExhibit, TableRow } from "../../disclosure/exhibit.ts";
import { keyPart } from "../../disclosure/key-part.ts";
import type { Block } from "../../report/block.ts";
import type { GroupFollowUp, StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { exhibitBlock, picturedBlock } from "../making/exhibit-block.ts";
import type { Section } from "../making/section.ts";
import { article, lossWords } from "../words.ts";
import { countCell, keys, noCell, shareCell, sized } from "./cells.ts";
import { completenessExhibit } from "./completeness.ts";

/** Who was included, who was not and why, and how long the rest were followed. */
export const included: Section = {
  id: "included",
  title: () => "Who was included",
  exhibits: (estimates, facts) => [
    flowExhibit(estimates, facts),
    ...recordingExhibit(estimates, facts),
    followUpExhibit(estimates, facts),
    ...completenessExhibit(estimates, facts),
  ],
  blocks: (view, facts, figures) => [
    ...exhibitBlock(view.flow("flow"), figures),
    ...picturedBlock(view.table("recording"), figures),
    ...exhibitBlock(view.table("follow-up"), figures),
    ...picturedBlock(view.table("completeness"), figures),
    ...captureProse(facts),
  ],
};

function flowExhibit(estimates: StudyEstimates, facts: StudyFacts): FlowExhibit {
  const { attrition, compared, notCompared, leftOut } = estimates;
  const boxes = attrition.map((step, at) => {
    const next = attrition[at + 1];
    const box = { label: step.label, ...sizes(`flow/${at}`, step.leftUnits, step.leftPersons) };
    if (next === undefined) return { ...box, removed: outOfComparison(notCompared, leftOut) };
    const removed = {
      label: `not: ${next.label}`,
      ...sizes(`flow/${at}/out`, next.removedUnits, next.removedPersons),
    };
    return next.removedUnits === 0 ? box : { ...box, removed: [removed] };
  });
  const total = (pick: (size: { units: number; persons: number }) => number) =>
    compared.reduce((sum, group) => sum + pick(group), 0);
  return {
    kind: "flow",
    id: "flow",
    title: `From the export to the groups compared`,
    unitWord: facts.words.unit.many,
    personWord: facts.words.person.many,
    boxes: [
      ...boxes,
      { label: "compared", units: { key: "flow/compared", units: total((size) => size.units) } },
    ],
    // Without the size of a group nothing else of it may be told: totals and boxes are given up before it.
    groups: compared.map((group) => ({
      label: group.label,
      units: { ...sized(keys.group(group.label), group), keep: true as const },
    })),
    notes: [
      `A ${facts.words.person.one} with two ${facts.words.unit.many} can stand in several places; ${facts.words.unit.many} cannot.`,
    ],
  };
}

function sizes(key: string, units: number, persons: number): { units: Count; persons: Count } {
  return { units: { key, units, persons }, persons: { key: `${key}/persons`, units: persons, persons } };
}

function outOfComparison(notCompared: StudyEstimates["notCompared"], leftOut: StudyEstimates["leftOut"]) {
  const groups = notCompared.map((group) => ({
    label: group.label,
    units: sized(keys.group(group.label), group),
  }));
  return leftOut.units === 0
    ? groups
    : [...groups, { label: "no time under observation", units: sized(keys.noTime, leftOut) }];
}

function recordingExhibit(estimates: StudyEstimates, facts: StudyFacts): readonly Exhibit[] {
  const { recording } = estimates;
  if (recording === undefined) return [];
  const whole = sized("recording/all", {
    units: recording.states.reduce((sum, state) => sum + state.size.units, 0),
    persons: estimates.attrition.at(-1)?.leftPersons ?? 0,
  });
  const states = recording.states.map((state) => sized(keys.group(state.group), state.size));
  return [
    {
      kind: "table",
      id: "recording",
      title: `How “${recording.title}” was recorded`,
      columns: [
        { id: "state", label: "Recorded as" },
        { id: "number", label: capital(facts.words.unit.many), align: "end" },
      ],
      rows: recording.states.map((state, at) => ({
        label: state.label,
        cells: [shareCell(states[at] ?? whole, whole)],
      })),
      notes: [
        `Blank never means no. Not recorded is not compared; it has a rate of its own under “The groups compared”.`,
        ...(recording.recordedAfterRevision > 0
          ? ["What was written down after the revision counts as not recorded."]
          : []),
      ],
      relations: [{ total: whole, parts: states }],
      picture: "bars",
    },
  ];
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
