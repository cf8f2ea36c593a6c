import { UsageError } from "../../base/errors.ts";
import type { CountsFile } from "../../cases/read-counts.ts";
import type { CountsDescriptor } from "../../cases/read-counts-descriptor.ts";

/** What must be the same in every file before counts may be added, and what to do where it is not. */
const MUST_AGREE: readonly (readonly [string, (descriptor: CountsDescriptor) => unknown, string])[] = [
  ["time unit", ({ timeUnit }) => timeUnit, "count all of them by the same unit"],
  [
    "causes",
    ({ causes }) => causes.map(({ label, event, death }) => [label, event, death]),
    "the same labels in the same order, with the same event asked about",
  ],
  ["exposure", ({ exposure }) => exposure, "the groups must mean the same thing everywhere"],
  ["groups", ({ groups }) => groups.map(({ label }) => label).sort(), "the same labels, in any order"],
  ["strata", ({ strata = [] }) => [...strata].sort(), "the same labels, in any order, or none anywhere"],
  ["unit of analysis", ({ unit }) => unit, "knees and patients cannot be added"],
  ["most units of one person", ({ mostPerPerson }) => mostPerPerson, "it belongs to the unit of analysis"],
  ["words for the event", ({ eventWords }) => eventWords, "the report needs one word"],
  ["invented", ({ invented }) => invented, "invented counts cannot be added to real ones"],
];

/**
 * Refuses counts that cannot be added: given twice, or counted differently.
 *
 * @throws UsageError `counts-do-not-agree` with every disagreement.
 */
export function requireAgreement(files: readonly CountsFile[]): void {
  const [first, ...others] = files;
  if (first === undefined) {
    throw new UsageError(
      "no-counts",
      "no counts to add; name at least one counts.json or the folder that holds it",
    );
  }
  const faults = [...twice(files), ...others.flatMap((other) => disagreements(first, other))];
  if (faults.length === 0) return;
  throw new UsageError("counts-do-not-agree", ["The counts cannot be added:", ...faults].join("\n  "));
}

/** By content, so that a copy under another name is found too. */
function twice(files: readonly CountsFile[]): string[] {
  return files.flatMap((file, at) => {
    const before = files.slice(0, at).find(({ source }) => source.fileHash === file.source.fileHash);
    return before === undefined
      ? []
      : [`${nameOf(file)}: the same counts as ${nameOf(before)}; give each file once`];
  });
}

function disagreements(first: CountsFile, other: CountsFile): string[] {
  return MUST_AGREE.filter(
    ([, pick]) => JSON.stringify(pick(first.descriptor)) !== JSON.stringify(pick(other.descriptor)),
  ).map(([what, , advice]) => `${nameOf(other)}: ${what} differs from that of ${nameOf(first)}; ${advice}`);
}

function nameOf({ descriptor, source }: CountsFile): string {
  return `"${descriptor.title}" (${source.fileName})`;
}
