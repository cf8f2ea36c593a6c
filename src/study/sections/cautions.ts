import type { Block } from "../../report/block.ts";
import type { StudyFacts } from "../facts.ts";

/** What every report says before anyone acts on it. */
export function cautions(facts: StudyFacts, threshold: number): Block {
  return {
    kind: "list",
    items: [
      ...generalCautions(facts, threshold),
      ...(facts.descriptor.study.cementedKnees ? kneeCautions(facts) : []),
    ],
  };
}

function generalCautions(facts: StudyFacts, threshold: number): string[] {
  const planned = facts.comparisons;
  const here = facts.groups.length - 1;
  return [
    "The groups were not assigned by chance. Differences may come from the patients, the people who treated them, the equipment or the time.",
    "This is not advice for any one patient. Decisions belong to licensed clinicians together with the patient.",
    "“No difference found” is not “no difference”.",
    planned === 1
      ? "One comparison was planned; this is it."
      : `${planned} comparisons were planned in all; ${here === 1 ? "this is one" : `${here} are`} of them. Some will look different by chance.`,
    `${threshold === 0 ? "This copy hides nothing and is for analysts" : "Small numbers are hidden to protect people"}. Do not try to identify anyone, or pass this on beyond the audience named at its foot.`,
  ];
}

function kneeCautions(facts: StudyFacts): string[] {
  return [
    "Cement handling, mixing, timing and temperature: follow the maker's instructions for the cement in use. The implant's instructions, local policy and theatre safety (fumes, heat, collapse at cementing) come first. Nothing here replaces them.",
    "Some “aseptic” failures may be infections that were missed. A revision is a decision, not only a failure. Who was lost is shown under “Who was included”.",
    "Steps are what somebody wrote down; “Who was included” shows how many were not recorded, or too late.",
    `Not for ranking surgeons and not for sanctions. A signal starts a review of the data, then the case mix, then the practice.`,
    ...(facts.descriptor.study.revisionCapture === "national"
      ? []
      : ["Revisions done elsewhere may be missing from this export."]),
  ];
}
