import { isPresent } from "../base/column.ts";
import type { Cases } from "../cases/cases.ts";
import { codeMeanings } from "../cases/code-meanings.ts";
import { columnOfRole } from "../cases/column-of-role.ts";

/** Revisions for loosening by the component that was loose. */
export interface LoosenedComponents {
  readonly revisions: number;
  readonly components: readonly {
    readonly code: string;
    readonly label: string;
    readonly revisions: number;
  }[];
  readonly notRecorded: number;
}

/**
 * Which component was loose at revisions for which loosening was ticked, as the main reason or beside another.
 *
 * Undefined where the export has no coded field for the reason. Counts only; a row is one knee.
 */
export function loosenedComponents(cases: Cases): LoosenedComponents | undefined {
  const isLoosening = looseningTest(cases);
  if (isLoosening === undefined) return undefined;
  const component = columnOfRole(cases, "loosenedComponent");
  const coded = component?.kind === "code" ? component : undefined;
  const counts = new Int32Array(coded?.codes.length ?? 0);
  let [revisions, notRecorded] = [0, 0];
  for (let row = 0; row < cases.rows; row += 1) {
    if (!isLoosening(row)) continue;
    revisions += 1;
    // In range: a code is an index into the codes.
    if (coded !== undefined && isPresent(coded, row)) counts[coded.values[row]!]! += 1;
    else notRecorded += 1;
  }
  const components = (coded?.codes ?? []).map((code, place) => ({
    code,
    label: coded?.labels[place] ?? code,
    revisions: counts[place] ?? 0,
  }));
  return { revisions, components, notRecorded };
}

function looseningTest(cases: Cases): ((row: number) => boolean) | undefined {
  const reason = columnOfRole(cases, "revisionReason");
  if (reason?.kind !== "code") return undefined;
  const loose = codeMeanings(cases, reason).map((meaning) => meaning.reason === "loosening");
  const { tickedReasons: ticked } = cases;
  if (ticked === undefined) return (row) => isPresent(reason, row) && loose[reason.values[row]!] === true;
  const looseSets = ticked.sets.map((words) =>
    words.some((word) => loose[reason.codes.indexOf(word)] === true),
  );
  return (row) => isPresent(reason, row) && looseSets[ticked.setOfRow[row]!] === true;
}
