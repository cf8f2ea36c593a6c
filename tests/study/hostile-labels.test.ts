import { describe, expect, it } from "vitest";
import { disclose } from "../../src/disclosure/disclose.ts";
import { escapeMarkup } from "../../src/report/markup.ts";
import { reportFiles } from "../../src/study/making/report-files.ts";
import type { StudyPlan } from "../../src/study/plan/plan.ts";
import { runStudy } from "../../src/study/run.ts";
import { faultsOf, HOSTILE } from "../report/hostile.ts";
import { PLAN, smallStudy } from "./small-export.ts";

/** Every word is met many times; a number keeps labels of one list apart. */
const WORDS = HOSTILE.map(([, words]) => words).filter((words) => words !== "");

/** Hands out one hostile word after the other, and remembers which. */
function hostileWords() {
  const given: string[] = [];
  return {
    given,
    next: () => {
      const words = `${WORDS[given.length % WORDS.length]} ${given.length}`;
      given.push(words);
      return words;
    },
  };
}

interface Field {
  readonly title?: string;
  readonly categories?: readonly { readonly value: string; readonly label: string }[];
  readonly missingValues?: readonly { readonly value: string; readonly label: string }[];
}

/** Every title and label of the dictionary replaced. */
function spoilt(descriptor: Record<string, unknown>, next: () => string): unknown {
  const labelled = (list: Field["categories"]) => list?.map((one) => ({ ...one, label: next() }));
  const { resources, study, ...rest } = descriptor as {
    resources: { schema: { fields: Field[] } }[];
    study: Record<string, unknown>;
  };
  return {
    ...rest,
    title: next(),
    study: {
      ...study,
      stamp: next(),
      revisionMeans: next(),
      unit: { one: "knee", many: next() },
      governance: { purpose: next(), approval: next(), authors: [next(), next()], funding: next() },
    },
    resources: resources.map((resource) => ({
      ...resource,
      schema: {
        ...resource.schema,
        fields: resource.schema.fields.map(({ categories, missingValues, ...field }) => ({
          ...field,
          title: next(),
          ...(categories === undefined ? {} : { categories: labelled(categories) }),
          ...(missingValues === undefined ? {} : { missingValues: labelled(missingValues) }),
        })),
      },
    })),
  };
}

function hostilePlan(next: () => string): Partial<StudyPlan> {
  return {
    title: next(),
    question: next(),
    eligibility: PLAN.eligibility.map((rule) => ({ ...rule, label: next() })),
    exposure: { step: "tourniquet", labels: { done: next(), notDone: next() } },
    endpoint: {
      event: { label: next(), revisionFor: ["loosening"] },
      competing: [
        { label: next(), revisionFor: "other" },
        { label: next(), death: true },
      ],
      censoring: "dataCut",
    },
    eventWords: { one: next(), many: next() },
    covariates: ["role:ageYears", "role:sex", "role:bmi", "role:asaGrade", "role:centre"],
    adjusters: [
      { field: "role:ageYears", settled: "before", reason: next() },
      { field: "role:sex", settled: "before", reason: next() },
    ],
    smallestDifferenceThatMatters: { per1000: 5, reason: next() },
  };
}

/** Codes of the file itself: centres are what the file says. */
const spoiltCodes = (text: string) =>
  text
    .replaceAll(/,C1,/g, ',"<img src=x onerror=alert(1)> & ""C1""",')
    .replaceAll(/,C2,/g, ",=HYPERLINK(1),");

describe("a report on an export whose every word is hostile", () => {
  const made = async () => {
    const words = hostileWords();
    const { study, source } = smallStudy(hostilePlan(words.next), {
      knees: 2500,
      csv: spoiltCodes,
      descriptor: (descriptor) => spoilt(descriptor, words.next),
    });
    const run = await runStudy(study, source);
    return (["committee", "analyst"] as const).map((audience) => ({
      audience,
      words: words.given,
      files: reportFiles(run, disclose(run.exhibits, audience)),
    }));
  };

  it("shows them as text in every section, picture, table and in results.json", async () => {
    for (const { audience, words, files } of await made()) {
      const page = files.get("index.html") ?? "";
      expect(faultsOf(page), audience).toEqual([]);
      const met = words.filter((one) => page.includes(escapeMarkup(one)));
      expect(met.length).toBeGreaterThan(25);
      for (const [path, text] of files) {
        if (path.endsWith(".svg")) expect(faultsOf(text), `${audience}: ${path}`).toEqual([]);
        if (path.endsWith(".csv")) expect(csvFaults(text), `${audience}: ${path}`).toEqual([]);
      }
      expect(() => JSON.parse(files.get("results.json") ?? "")).not.toThrow();
      // The dictionary does not list the centres, so nobody reads what the file calls them.
      for (const [path, text] of files) expect(text, `${audience}: ${path}`).not.toMatch(/C1("|&quot;|\\")/);
      expect([...files.keys()].filter((path) => !/^[a-z0-9/.-]+$/.test(path))).toEqual([]);
    }
  });
});

/** Records of another width than the first, and cells that a spreadsheet would run. */
function csvFaults(text: string): string[] {
  const records = parse(text);
  const width = records[0]?.length ?? 0;
  return records.flatMap((record, at) => [
    ...(record.length === width ? [] : [`record ${at + 1} has ${record.length} fields, not ${width}`]),
    ...record.filter((cell) => /^[=@]|^[+-](?!\d|$)/.test(cell)).map((cell) => `runs: ${cell.slice(0, 30)}`),
  ]);
}

/** RFC 4180, read once more without the code under test. */
function parse(text: string): string[][] {
  const records: string[][] = [[]];
  let cell = "";
  let quoted = false;
  for (let at = 0; at < text.length; at++) {
    const sign = text[at];
    if (quoted && sign === '"' && text[at + 1] === '"') {
      cell += sign;
      at += 1;
    } else if (sign === '"') quoted = !quoted;
    else if (!quoted && sign === ",") {
      records.at(-1)?.push(cell);
      cell = "";
    } else if (!quoted && sign === "\r" && text[at + 1] === "\n") {
      records.at(-1)?.push(cell);
      cell = "";
      records.push([]);
      at += 1;
    } else cell += sign;
  }
  return records.filter((record) => record.length > 0);
}
