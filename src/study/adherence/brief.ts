import { capital } from "../../base/words.ts";
import type { Block, Prose } from "../../report/block.ts";
import { picturedBlock } from "../making/exhibit-block.ts";
import type { Figures } from "../making/section.ts";
import type { ClearedView } from "../making/view.ts";
import { BRIEF_TITLES } from "../sections/brief-titles.ts";
import { article, levelWords, listed, sentence } from "../words.ts";
import { percentOf, READINGS, type Reading, standardWords } from "./reading.ts";
import type { AdherenceRun, StepAdherence } from "./run-adherence.ts";

/** Two pages for a committee: question, what the records say of each standard, cautions, decision. */
export function adherenceBrief(run: AdherenceRun, view: ClearedView, figures: Figures): Block[] {
  const section = (id: string, title: string, blocks: Block[]): Block => ({
    kind: "section",
    id,
    title,
    blocks,
  });
  return [
    section("question", BRIEF_TITLES.question, [{ kind: "prose", text: run.plan.question }]),
    section("answer", BRIEF_TITLES.answer, [
      { kind: "answer", text: headline(run) },
      { kind: "list", items: judged(run).map((step) => stepLine(step, view)) },
      ...togetherLine(run, view),
      { kind: "prose", text: howToRead(run) },
      ...picturedBlock(view.table("done"), figures),
    ]),
    section("cautions", BRIEF_TITLES.cautions, [{ kind: "list", items: cautions(run, view) }]),
    section("decision", BRIEF_TITLES.decision, [
      {
        kind: "choices",
        title: "Mark one, with date and initials",
        items: [
          "No change",
          "Record better",
          "Collect longer",
          "Review the data, then the case mix, then the practice",
        ],
      },
    ]),
    section("words-used", BRIEF_TITLES.words, [{ kind: "list", items: glossary(run) }]),
  ];
}

type Judged = StepAdherence & Required<Pick<StepAdherence, "standard" | "reading">>;

function judged({ steps }: AdherenceRun): Judged[] {
  return steps.filter((step): step is Judged => step.standard !== undefined && step.reading !== undefined);
}

/** How the standards fall: numbers of steps, never of people. */
function headline(run: AdherenceRun): Prose {
  const all = judged(run);
  if (all.length === 0) return [{ strong: "No standard was set: the steps are counted and not judged." }];
  const number = (...kinds: readonly Reading[]) =>
    all.filter(({ reading }) => kinds.includes(reading)).length;
  const parts = [
    [number("reached"), "reached"],
    [number("missed"), "not reached"],
    [number("reachedIfWritten", "missedIfWritten"), "could turn on what was not written down"],
    [number("chance", "few"), "cannot be told"],
  ] as const;
  const told = parts.flatMap(([count, words]) => (count === 0 ? [] : [`${count} ${words}`]));
  return [
    { strong: `Of ${all.length === 1 ? "one standard" : `${all.length} standards`}: ${listed(told)}.` },
  ];
}

/** "pulsed lavage: 91.2 % (90.1 to 92.2), at least 95 % asked: standard not reached, …". */
function stepLine({ label, standard, reading }: Judged, view: ClearedView): Prose {
  const cell = view.cell("standards", label, "done");
  const found =
    cell === undefined || cell.values.length === 0 ? "the share is not shown" : `${cell.text} done`;
  return [
    { strong: label },
    `: ${found}; ${standardWords(standard)} was asked. ${sentence(capital(READINGS[reading]))}`,
  ];
}

function togetherLine({ together, level }: AdherenceRun, view: ClearedView): Block[] {
  if (together === undefined) return [];
  const label = `every step done, of complete records (${levelWords(level)} interval)`;
  const cell = view.cell("together", label, "count");
  if (cell === undefined || cell.values.length === 0) return [];
  const steps = together.labels.length === 2 ? "Both steps" : `All ${together.labels.length} steps`;
  return [{ kind: "prose", text: `${steps} done, where all of them were written down: ${cell.text}.` }];
}

function howToRead(run: AdherenceRun): string {
  const { unit } = run.descriptor.study;
  const reasons = [...new Set(judged(run).map(({ standard }) => standard.reason))];
  const extreme = judged(run).some(({ standard }) => [0, 100].includes(percentOf(standard)));
  return [
    `Each share is out of the ${unit.many} where the step applies and was written down. Blank never means no.`,
    ...(reasons.length === 0 ? [] : [sentence(`Where the standards come from: ${reasons.join("; ")}`)]),
    ...(extreme
      ? ["A standard of all or of none can be missed but never shown: chance always leaves room."]
      : []),
  ].join(" ");
}

function cautions(run: AdherenceRun, { all: { threshold } }: ClearedView): string[] {
  return [
    "Steps are what somebody wrote down. A step may be done and not written, or written and not done.",
    "This page says what was done. It does not say whether a step matters for the patient.",
    "Not for ranking surgeons and not for sanctions. A signal starts a review of the data, then the case mix, then the practice.",
    `${threshold === 0 ? "This copy hides nothing and is for analysts" : "Small numbers are hidden to protect people"}. Do not try to identify anyone, or pass this on beyond the audience named at its foot.`,
    ...(run.descriptor.study.cementedKnees
      ? [
          "Cement handling, mixing, timing and temperature: follow the maker's instructions for the cement in use. The implant's instructions, local policy and theatre safety come first. Nothing here replaces them.",
        ]
      : []),
  ];
}

function glossary({ level, descriptor }: AdherenceRun): Prose[] {
  const { unit } = descriptor.study;
  return [
    [
      { strong: `${levelWords(level)} interval` },
      ": the values that fit the numbers well. A wide one means that little is known.",
    ],
    [{ strong: "Standard" }, ": what was said beforehand that the unit does."],
    [
      { strong: "Not applicable" },
      `: ${article(unit.one)} for which the step makes no sense, as the unit wrote it. It is not counted.`,
    ],
    [{ strong: "Not recorded" }, ": nobody wrote down whether it was done, or did so too late."],
  ];
}
