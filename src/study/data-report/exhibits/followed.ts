import type { Answer } from "../../../base/answer.ts";
import { capital } from "../../../base/words.ts";
import { LEDGER_SOURCES, type LedgerSource } from "../../../cohort/follow-up-ledger.ts";
import type { Cell, Count, Relation, TableExhibit } from "../../../disclosure/exhibit.ts";
import { keyPart } from "../../../disclosure/key-part.ts";
import { countCell, noCell, shareCell, sized } from "../../sections/cells.ts";
import { allRowsCount, atLeastHalf, dataKeys } from "../data-keys.ts";
import type { FollowedBy, FollowedGroup, FollowedGroups } from "../followed-groups.ts";

const SOURCE_WORDS: Readonly<Record<LedgerSource, string>> = {
  revision: "Revision",
  death: "Death",
  emigration: "Emigration",
  dataCut: "Data cut",
  lastContact: "Last contact",
  radiograph: "Radiograph",
};

const RULE_WORDS = {
  dataCut: "up to the data cut",
  lastContact: "up to the last contact",
  hybrid: "events up to the data cut, visits up to the last one",
} as const;

/** The ledger by centre and year of operation, and a figure of how completely each centre was followed. */
export function followedExhibits(
  answer: Answer<FollowedGroups>,
  unitWord: string,
  knowsPersons: boolean,
): TableExhibit[] {
  if (!answer.computed) return [];
  const [, ...divided] = answer.by;
  return [
    ledgerExhibit(answer, unitWord, knowsPersons),
    ...completenessExhibit(answer, unitWord, knowsPersons, divided),
  ];
}

/** Which source says last that a knee is unrevised, with how many were lost. */
function ledgerExhibit({ by, rule }: FollowedGroups, unitWord: string, knowsPersons: boolean): TableExhibit {
  const lines = by.flatMap((one) =>
    one.groups.map((group) => ({ one, group, counts: ledgerCounts(one, group, knowsPersons) })),
  );
  const isShown = (at: number) =>
    LEDGER_SOURCES[at] !== "radiograph" || lines.some(({ counts }) => (counts.sources[at]?.units ?? 0) > 0);
  return {
    kind: "table",
    id: "ledger",
    title: "To which day follow-up is known, and which source says so",
    columns: [
      { id: "group", label: "Group" },
      { id: "number", label: capital(unitWord), align: "end" },
      ...LEDGER_SOURCES.filter((_, at) => isShown(at)).map((source) => ({
        id: source,
        label: SOURCE_WORDS[source],
        align: "end" as const,
      })),
      { id: "unknown", label: "Nothing known", align: "end" },
      { id: "lost", label: "Lost", align: "end" },
      { id: "completeness", label: "Completeness", align: "end" },
    ],
    rows: by.flatMap((one) => [
      ...(one.kind === "all" ? [] : [{ label: `By ${one.title}`, heading: true, cells: [] }]),
      ...lines
        .filter((line) => line.one === one)
        .map(({ group, counts }) => ({
          label: one.kind === "all" ? `All ${unitWord}` : group.label,
          ...(one.kind === "all" ? {} : { indent: 1 }),
          cells: [
            countCell(counts.size),
            ...counts.sources.filter((_, at) => isShown(at)).map(countCell),
            countCell(counts.unknown),
            shareCell(counts.lost, counts.known),
            percentCell(group.complete, [counts.known, counts.lost]),
          ],
        })),
    ]),
    notes: [
      `The first source in time ends follow-up; rule: ${RULE_WORDS[rule]}. Completeness: time observed over the time to revision, death or data cut. Lost: alive, unrevised, and known for the last time more than 12 months before the data cut.`,
    ],
    relations: [
      ...lines.flatMap(({ counts }) => balances(counts)),
      ...by.filter(({ kind }) => kind !== "all").flatMap((one) => sumsOverGroups(by[0], one, knowsPersons)),
    ],
    settings: { rule, lossDays: by[0]?.groups[0]?.lossDays ?? null },
  };
}

type LedgerCounts = ReturnType<typeof ledgerCounts>;

function ledgerCounts({ kind }: FollowedBy, group: FollowedGroup, knowsPersons: boolean) {
  const count = (what: string, units: number) =>
    atLeastHalf(`ledger/${kind}/${keyPart(group.label)}/${what}`, units, knowsPersons);
  const { lastContact, radiograph, emigration } = group.bySource;
  const leaving = lastContact + radiograph + emigration;
  return {
    size: kind === "all" ? allRowsCount(group.size) : sized(dataKeys.level(kind, group.label), group.size),
    known: count("known", group.knees),
    unknown: count("unknown", group.size.units - group.knees),
    sources: LEDGER_SOURCES.map((source) => count(source, group.bySource[source])),
    leaving: count("leaving", leaving),
    lost: count("lost", group.lost),
    notLost: count("not lost", leaving - group.lost),
  };
}

function balances({ size, known, unknown, sources, leaving, lost, notLost }: LedgerCounts): Relation[] {
  const ends = (["emigration", "lastContact", "radiograph"] as const).map((source) =>
    LEDGER_SOURCES.indexOf(source),
  );
  return [
    { total: size, parts: [known, unknown] },
    { total: known, parts: sources },
    { total: leaving, parts: sources.filter((_, at) => ends.includes(at)) },
    { total: leaving, parts: [lost, notLost] },
  ];
}

/** The groups of one kind add up to everybody, with those of no group. */
function sumsOverGroups(all: FollowedBy | undefined, one: FollowedBy, knowsPersons: boolean): Relation[] {
  const [everybody] = all?.groups ?? [];
  if (all === undefined || everybody === undefined) return [];
  const totals = flat(ledgerCounts(all, everybody, knowsPersons));
  const groups = one.groups.map((group) => flat(ledgerCounts(one, group, knowsPersons)));
  return totals.map((total, at) => {
    const parts = groups.flatMap((counts) => counts[at] ?? []);
    const rest = total.units - parts.reduce((sum, { units }) => sum + units, 0);
    return {
      total,
      parts: rest === 0 ? parts : [...parts, { key: `${total.key}/at no ${one.kind}`, units: rest }],
    };
  });
}

function flat({ size, known, unknown, sources, lost }: LedgerCounts): readonly Count[] {
  return [size, known, unknown, ...sources, lost];
}

/** How completely each group was followed, up to years of follow-up. */
function completenessExhibit(
  { years }: FollowedGroups,
  unitWord: string,
  knowsPersons: boolean,
  divided: readonly FollowedBy[],
): TableExhibit[] {
  if (years.length === 0 || divided.length === 0) return [];
  return [
    {
      kind: "table",
      id: "follow-up-completeness",
      title: "How completely follow-up was observed",
      picture: "shares",
      columns: [
        { id: "group", label: "Group" },
        ...years.map((year) => ({ id: `to-${year}`, label: `to year ${year}`, align: "end" as const })),
      ],
      rows: divided.flatMap((one) => [
        { label: `By ${one.title}`, heading: true, cells: [] },
        ...one.groups.map((group) => ({
          label: group.label,
          indent: 1,
          cells: group.toYear.map(({ complete, short }, at) =>
            percentCell(complete, [
              ledgerCounts(one, group, knowsPersons).known,
              sized(`ledger/${one.kind}/${keyPart(group.label)}/short/${years[at]}`, short),
            ]),
          ),
        })),
      ]),
      notes: [
        `Of the time in which ${unitWord} of a group could have been observed up to that year of follow-up, the share in which they were.`,
      ],
    },
  ];
}

function percentCell(complete: FollowedGroup["complete"], restsOn: readonly Count[]): Cell {
  if (!complete.computed) return noCell(complete);
  return { kind: "number", value: 100 * complete.share, decimals: 0, suffix: " %", restsOn };
}
