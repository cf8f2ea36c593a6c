import { capital } from "../../base/words.ts";
import type { Block } from "../../report/block.ts";
import type { StudyFacts } from "../facts.ts";
import { article, levelWords } from "../words.ts";

/** The words of the brief that a reader may not know, each in one or two short sentences. */
export function glossary(facts: StudyFacts): Block {
  const { unit, event } = facts.words;
  const level = levelWords(facts.level);
  return {
    kind: "list",
    items: [
      [
        { strong: `${level} interval` },
        `: the values that fit the numbers well. A wide one means that little is known.`,
      ],
      [{ strong: `${capital(unit.one)}-years` }, `: years of being watched, added up over all ${unit.many}.`],
      [{ strong: "Rate" }, `: ${event.many} per 100 ${unit.one}-years.`],
      [
        { strong: "Ratio" },
        `: one rate over another. 1 means that both are alike. A hazard ratio compares day by day.`,
      ],
      [
        { strong: "Crude risk" },
        `: how many have had ${article(event.one)}, out of all. Some die or have another reason first, and they count too.`,
      ],
      [
        { strong: "Censored" },
        `: the watching stopped before ${article(event.one)} or another end was seen. What came later is not known.`,
      ],
      [
        { strong: "Other end" },
        `: a death, or ${article(event.one)} for another reason, came first. What is studied can then no longer come.`,
      ],
      [{ strong: "Completeness" }, `: the part of the time that should have been watched that was watched.`],
      [
        { strong: "Aalen–Johansen estimate" },
        `: a way to work out crude risk when not all are watched for the same time.`,
      ],
      [{ strong: "Net risk" }, `: how many would have had one if nobody died or had another reason first.`],
    ],
  };
}
