import type { AttritionStep } from "../../cohort/cohort.ts";
import type { Count, FlowBox, FlowExhibit, Relation } from "../../disclosure/exhibit.ts";
import type { GroupSize, StudyEstimates } from "../estimates/estimates.ts";
import type { StudyFacts } from "../facts.ts";
import { keys } from "./cells.ts";

/** From the export to the groups: who stayed, who left at each step and why, in units and in persons. */
export function flowExhibit(estimates: StudyEstimates, facts: StudyFacts): FlowExhibit {
  const { attrition, compared, comparedPersons } = estimates;
  const boxes = attritionBoxes(attrition).map((box, at, all) =>
    at === all.length - 1 ? { ...box, removed: outOfComparison(estimates) } : box,
  );
  const units = compared.reduce((sum, group) => sum + group.units, 0);
  return {
    kind: "flow",
    id: "flow",
    title: `From the export to the groups compared`,
    unitWord: facts.words.unit.many,
    personWord: facts.words.person.many,
    boxes: [...boxes, { label: "compared", ...sizes("flow/compared", units, comparedPersons) }],
    groups: compared.map((group) => {
      const { units, persons } = groupPart(group);
      // Without the size of a group nothing else of it may be told: totals and boxes are given up before it.
      return { label: group.label, units: { ...units, keep: true as const }, persons };
    }),
    notes: [
      `A ${facts.words.person.one} with two ${facts.words.unit.many} can stand in several places; ${facts.words.unit.many} cannot.`,
    ],
  };
}

/** Who stayed, rule by rule, and who left at each. The last box has the key given, where it stands elsewhere too. */
export function attritionBoxes(attrition: readonly AttritionStep[], lastKey?: string): FlowBox[] {
  return attrition.map((step, at) => {
    const next = attrition[at + 1];
    const key = next === undefined ? (lastKey ?? `flow/${at}`) : `flow/${at}`;
    const box = { label: step.label, ...sizes(key, step.leftUnits, step.leftPersons) };
    if (next === undefined || next.removedUnits === 0) return box;
    const removed = {
      label: `not: ${next.label}`,
      ...sizes(`flow/${at}/out`, next.removedUnits, next.removedPersons),
    };
    return { ...box, removed: [removed] };
  });
}

/**
 * Persons with units on both sides of a step, or in two groups: where the flow shows how many persons stand on each
 * side and before it, a reader can count them.
 */
export function personsTwice({ boxes, groups }: FlowExhibit): Relation[] {
  return boxes.flatMap((box, at) => {
    const next = boxes[at + 1];
    const parts = next === undefined ? groups : [next, ...(box.removed ?? [])];
    const persons = parts.flatMap((part) => (part.persons === undefined ? [] : [part.persons]));
    if (box.persons === undefined || persons.length < parts.length) return [];
    return overlap(box.persons, persons);
  });
}

function overlap(whole: Count, parts: readonly Count[]): Relation[] {
  const sum = parts.reduce((total, { units }) => total + units, 0);
  if (sum <= whole.units) return [];
  const all = { key: `${whole.key}/counted again`, units: sum };
  const twice = { key: `${whole.key}/twice`, units: sum - whole.units };
  return [
    { total: all, parts },
    { total: all, parts: [whole, twice] },
  ];
}

function sizes(key: string, units: number, persons: number): { units: Count; persons: Count } {
  return { units: { key, units, persons }, persons: { key: `${key}/persons`, units: persons, persons } };
}

function groupPart(group: GroupSize): { units: Count; persons: Count } {
  return sizes(keys.group(group.label), group.units, group.persons);
}

function outOfComparison({ notCompared, leftOut }: StudyEstimates) {
  const groups = notCompared.map((group) => ({ label: group.label, ...groupPart(group) }));
  if (leftOut.units === 0) return groups;
  const { units, persons } = leftOut;
  return [...groups, { label: "no time under observation", ...sizes(keys.noTime, units, persons) }];
}
