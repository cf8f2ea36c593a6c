import type { ClearedCell, ClearedExhibits } from "../../src/disclosure/cleared.ts";
import type { CurveExhibit, ExhibitCurve } from "../../src/disclosure/exhibit.ts";
import { keyPart } from "../../src/disclosure/key-part.ts";
import type { StudyRun } from "../../src/study/run.ts";
import { type Attacker, attackerOf } from "../disclosure/attacker.ts";

/**
 * A reader of a whole report as it was written to `results.json`.
 *
 * Beside what the exhibits declare, this reader knows how a study hangs together, written here once more without the
 * sections' own relations: groups add up, periods add up, a group is whoever is at risk and whoever has left, and so on.
 */
export function reportAttacker(run: StudyRun, printed: ClearedExhibits): Attacker {
  const exact: ClearedExhibits = { ...printed, exhibits: printed.exhibits.map(withoutCoarse) };
  const { truth, known, small, sums } = attackerOf(run.exhibits, exact);
  const all = new Map(truth);
  const seen = new Set(known);
  const guarded = new Set(small);
  const known2 = (key: string, units: number, cell?: ClearedCell) => {
    all.set(key, units);
    if (cell?.hidden === false && cell.values.length > 0) seen.add(key);
    if (units > 0 && units < printed.threshold) guarded.add(key);
  };
  const added: string[][] = [];
  for (const exhibit of run.exhibits) {
    const shown = exact.exhibits.find(({ id }) => id === exhibit.id);
    if (exhibit.kind === "curves" && shown?.kind === "curves") {
      for (const row of shown.landmarks) {
        const curve = exhibit.curves.find(({ label }) => label === row.label);
        if (curve !== undefined) added.push(...landmarkSums(exhibit, curve, row, known2));
      }
    }
  }
  added.push(...studySums(run, all));
  added.push(...betweenYears(all, known2));
  const full = added.filter((keys) => keys.every((key) => all.has(key)) && addsUp(keys, all));
  return { truth: all, known: seen, small: [...guarded], sums: [...sums, ...full] };
}

type Note = (key: string, units: number, cell?: ClearedCell) => void;

/** At risk counts as told only where nothing beside it is hidden: elsewhere it may be rounded. */
function landmarkSums(
  exhibit: CurveExhibit,
  curve: ExhibitCurve,
  row: { readonly [what in "atRisk" | "events" | "censored"]: readonly ClearedCell[] } & {
    readonly competing?: readonly ClearedCell[];
  },
  note: Note,
): string[][] {
  return exhibit.years.flatMap((year, at) => {
    const tick = Math.floor(year * exhibit.timeUnit.perYear);
    if (year === 0 || curve.drawnTo === undefined || tick > curve.drawnTo) return [];
    const sum = (parts: readonly number[]) =>
      parts.reduce((total, part, step) => total + ((curve.time[step] ?? 0) <= tick ? part : 0), 0);
    const gone: [string, number, ClearedCell | undefined][] = [
      ["events", sum(curve.eventsAt), row.events[at]],
      [curve.competingAt === undefined ? "left" : "censored", sum(curve.censoredAt), row.censored[at]],
      ...(curve.competingAt === undefined
        ? []
        : [
            ["competing", sum(curve.competingAt), row.competing?.[at]] as [
              string,
              number,
              ClearedCell | undefined,
            ],
          ]),
    ];
    const keys = gone.map(([word, units, cell]) => {
      const key = `${word}/${curve.key}/to:${year}`;
      note(key, units, cell);
      return key;
    });
    const atRisk = `${exhibit.id} at risk/${curve.key}/${year}`;
    const isExact = gone.every(([, , cell]) => cell?.hidden === false);
    note(
      atRisk,
      curve.units - gone.reduce((total, [, units]) => total + units, 0),
      isExact ? row.atRisk[at] : undefined,
    );
    return [[`group/${curve.key.split("/")[1] ?? ""}`, atRisk, ...keys]];
  });
}

function studySums({ estimates, facts }: StudyRun, truth: ReadonlyMap<string, number>): string[][] {
  const cause = keyPart(facts.cause);
  const groups = estimates.compared.map(({ label }) => keyPart(label));
  const others = estimates.notCompared.map(({ label }) => keyPart(label));
  const matching = (pattern: RegExp) => [...truth.keys()].filter((key) => pattern.test(key));
  const fields = new Set(matching(/^covariate\//).map((key) => key.split("/")[1] ?? ""));
  return [
    [`events/${cause}`, ...groups.map((group) => `events/${cause}/${group}`)],
    ["flow/compared", ...groups.map((group) => `group/${group}`)],
    ["recording/all", ...[...groups, ...others].map((group) => `group/${group}`)],
    ...[...groups, ...others].map((group) => [
      `events/${cause}/${group}`,
      ...estimates.compared[0]!.eventsByPeriod.map((_size, at) => `events/${cause}/${group}/period:${at}`),
    ]),
    ...groups.flatMap((group) =>
      [...fields].flatMap((field) => {
        const own = (what: string) =>
          matching(/^covariate\//).filter(
            (key) => key.startsWith(`covariate/${field}/${what}`) && key.endsWith(`/${group}`),
          );
        const present = `covariate/${field}/present/${group}`;
        const categories = own("is:");
        return [
          [`group/${group}`, present, ...own("missing:")],
          ...(categories.length === 0 ? [] : [[present, ...categories]]),
        ];
      }),
    ),
    [
      "flow/no-time",
      ...matching(/^finding\/(operation-date|last-contact|ends-before|exit-not|follow-up-time|status)/),
    ],
  ];
}

/** What happened between two years, and after the last. */
function betweenYears(truth: ReadonlyMap<string, number>, note: Note): string[][] {
  const years = new Map<string, number[]>();
  for (const key of truth.keys()) {
    const [, series, year] = /^(.+)\/to:(\d+)$/.exec(key) ?? [];
    if (series !== undefined) years.set(series, [...(years.get(series) ?? []), Number(year)]);
  }
  return [...years].flatMap(([series, ends]) => {
    const chain = ends.sort((a, b) => a - b).map((year) => `${series}/to:${year}`);
    if (truth.has(series)) chain.push(series);
    return chain.slice(1).map((key, at) => {
      const before = chain[at] ?? "";
      const between = `${key} after ${before}`;
      note(between, (truth.get(key) ?? 0) - (truth.get(before) ?? 0));
      return [key, before, between];
    });
  });
}

function addsUp([total = "", ...parts]: readonly string[], truth: ReadonlyMap<string, number>): boolean {
  return parts.reduce((sum, part) => sum + (truth.get(part) ?? 0), 0) === truth.get(total);
}

/** Whole steps tell no exact number. */
function withoutCoarse(exhibit: ClearedExhibits["exhibits"][number]): ClearedExhibits["exhibits"][number] {
  if (exhibit.kind !== "table") return exhibit;
  const rows = exhibit.rows.map((row) => ({
    ...row,
    cells: row.cells.map((cell) => (cell.coarse === undefined ? cell : { ...cell, hidden: true })),
  }));
  // A test's own reading of a cleared exhibit; the brand is kept by the copy.
  return { ...exhibit, rows } as typeof exhibit;
}
