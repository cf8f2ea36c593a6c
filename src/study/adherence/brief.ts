import { capital } from "../../base/words.ts";
import type { Block, Prose } from "../../report/block.ts";
import { picturedBlock } from "../making/exhibit-block.ts";
import type { Figures } from "../making/section.ts";
import type { ClearedView } from "../making/view.ts";
import { BRIEF_TITLES } from "../sections/brief-titles.ts";
import { DECISION_LINES } from "../sections/decision-lines.ts";
import { article, levelWords, listed, sentence } from "../words.ts";
import type { Standard } from "./plan.ts";
import { percentOf, READINGS, type Reading, standardWords } from "./reading.ts";
import type { AdherenceRun } from "./run-adherence.ts";

/** Two pages for a committee: question, what the records say of each standard, cautions, decision. */
export function adherenceBrief(run: AdherenceRun, view: ClearedView, figures: Figures): Block[] {
  const all = judged(run, view);
  const section = (id: string, title: string, blocks: Block[]): Block => ({
    kind: "section",
    id,
    title,
    blocks,
  });
  return [
    section("question", BRIEF_TITLES.question, [{ kind: "prose", text: run.plan.question }]),
    section("answer", BRIEF_TITLES.answer, [
      { kind: "answer", text: headline(all) },
      ...lookedAt(run, view),
      { kind: "list", items: all.map((step) => stepLine(step, view)) },
      ...togetherLine(run, view),
      { kind: "prose", text: howToRead(run, all) },
      ...picturedBlock(view.table("done"), figures),
    ]),
    section("cautions", BRIEF_TITLES.cautions, [{ kind: "list", items: cautions(run, view) }]),
    section("decision", BRIEF_TITLES.decision, [
      {
        kind: "choices",
        title: "Mark one",
        lines: DECISION_LINES,
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

interface Judged {
  readonly label: string;
  readonly standard: Standard;
  /** As the reader may see it; undefined where it is hidden. */
  readonly reading: Reading | undefined;
}

function judged({ steps }: AdherenceRun, view: ClearedView): Judged[] {
  return steps.flatMap(({ label, standard }) =>
    standard === undefined ? [] : [{ label, standard, reading: readingShown(view, label) }],
  );
}

function readingShown(view: ClearedView, label: string): Reading | undefined {
  const words = view.cell("standards", label, "reading")?.text;
  return (Object.keys(READINGS) as Reading[]).find((reading) => READINGS[reading] === words);
}

/** How the standards fall: numbers of steps, never of people. */
function headline(all: readonly Judged[]): Prose {
  if (all.length === 0) return [{ strong: "No standard was set: the steps are counted and not judged." }];
  const number = (...kinds: readonly (Reading | undefined)[]) =>
    all.filter(({ reading }) => kinds.includes(reading)).length;
  const parts = [
    [number("reached"), "reached"],
    [number("missed"), "not reached"],
    [number("reachedIfWritten", "missedIfWritten"), "could turn on what was not written down"],
    [number("chance", "few"), "cannot be told"],
    [number(undefined), "not shown here"],
  ] as const;
  const told = parts.flatMap(([count, words]) => (count === 0 ? [] : [`${count} ${words}`]));
  return [
    { strong: `Of ${all.length === 1 ? "one standard" : `${all.length} standards`}: ${listed(told)}.` },
  ];
}

/** "pulsed lavage: 91.2 % (90.1 to 92.2) done; at least 95 % was asked. Standard not reached, …". */
function stepLine({ label, standard, reading }: Judged, view: ClearedView): Prose {
  const cell = view.cell("standards", label, "done");
  const found =
    cell === undefined || cell.values.length === 0 ? "the share is not shown" : `${cell.text} done`;
  const says = reading === undefined ? "What that means is not shown either" : capital(READINGS[reading]);
  return [{ strong: label }, `: ${found}; ${standardWords(standard)} was asked. ${sentence(says)}`];
}

function togetherLine({ together, level }: AdherenceRun, view: ClearedView): Block[] {
  if (together === undefined) return [];
  const label = `every step done, of complete records (${levelWords(level)} interval)`;
  const cell = view.cell("together", label, "count");
  if (cell === undefined || cell.values.length === 0) return [];
  const steps = together.labels.length === 2 ? "Both steps" : `All ${together.labels.length} steps`;
  return [{ kind: "prose", text: `${steps} done, where all of them were written down: ${cell.text}.` }];
}

/** "Looked at: 7753 knees in 6240 patients." */
function lookedAt({ descriptor: { study } }: AdherenceRun, view: ClearedView): Block[] {
  const box = view.flow("looked-at")?.boxes.at(-1);
  if (box === undefined || box.units.hidden) return [];
  const who =
    box.persons === undefined || box.persons.hidden ? "" : ` in ${box.persons.text} ${study.person.many}`;
  return [{ kind: "prose", text: `Looked at: ${box.units.text} ${study.unit.many}${who}.` }];
}

function howToRead({ descriptor: { study } }: AdherenceRun, all: readonly Judged[]): string {
  const reasons = [...new Set(all.map(({ standard }) => standard.reason))];
  const extreme = all.some(({ standard }) => [0, 100].includes(percentOf(standard)));
  return [
    `Each share is out of the ${study.unit.many} where the step applies and was written down. Blank never means no.`,
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
    [{ strong: "Standard" }, ": what the unit is measured by here, and who set it."],
    [
      { strong: "Not applicable" },
      `: ${article(unit.one)} for which the step makes no sense, as the unit wrote it. It is not counted.`,
    ],
    [{ strong: "Not recorded" }, ": nobody wrote down whether it was done, or did so too late."],
  ];
}
