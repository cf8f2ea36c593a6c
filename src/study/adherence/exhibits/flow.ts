import type { FlowExhibit } from "../../../disclosure/exhibit.ts";
import { attritionBoxes } from "../../sections/flow.ts";
import type { AdherenceRun } from "../run-adherence.ts";
import { EVERYBODY } from "./step-counts.ts";

/** From the export to those who are looked at. */
export function lookedAtExhibit({
  attrition,
  descriptor: { study },
}: Omit<AdherenceRun, "exhibits">): FlowExhibit {
  const { unit, person } = study;
  return {
    kind: "flow",
    id: "looked-at",
    title: "From the export to those looked at",
    unitWord: unit.many,
    personWord: person.many,
    boxes: attritionBoxes(attrition, `adherence/${EVERYBODY}/all`),
    groups: [],
    notes: [`A ${person.one} with two ${unit.many} can stand in several places; ${unit.many} cannot.`],
  };
}
