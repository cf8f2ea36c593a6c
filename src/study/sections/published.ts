import { capital } from "../../base/words.ts";
import type { Block } from "../../report/block.ts";
import { SOURCES } from "../../technique/sources.ts";
import { stepCatalogue } from "../../technique/step-catalogue.ts";
import type { StepEntry } from "../../technique/step-entry.ts";
import type { Section } from "../making/section.ts";
import { listed, sentence } from "../words.ts";

/** What has been published on the step, beside this export's own estimate; nothing where the groups are of no step. */
export const published: Section = {
  id: "published",
  title: () => "What others have found",
  exhibits: () => [],
  blocks: (_view, { plan: { exposure } }) => {
    const entry = "step" in exposure ? stepCatalogue[exposure.step] : undefined;
    return entry === undefined ? [] : entryBlocks(entry);
  },
};

function entryBlocks({
  label,
  definition,
  direction,
  directionBecause,
  strength,
  facts,
  commonPractice,
  caution,
}: StepEntry): Block[] {
  const why = sentence(directionBecause);
  const kinds =
    strength[0] === "none found" ? "No study of it was found." : `Kinds of study: ${listed(strength)}.`;
  return [
    {
      kind: "prose",
      text: [
        { strong: capital(label) },
        `. ${definition} Expected beforehand: ${direction}; ${why} ${kinds}`,
      ],
    },
    ...(facts.length === 0
      ? []
      : [
          {
            kind: "list" as const,
            items: facts.map(({ says, source }) => `${says} (${SOURCES[source]})`),
          },
        ]),
    ...(commonPractice.length === 0 ? [] : [{ kind: "list" as const, items: commonPractice }]),
    { kind: "caution", text: caution },
    {
      kind: "prose",
      text: `${facts.length === 0 ? "" : "Of each publication the abstract or an excerpt was read, not the whole: look it up before quoting it. "}Not a systematic review, and no advice: what was found elsewhere was found in other patients, with other cements and other hands.`,
    },
  ];
}
