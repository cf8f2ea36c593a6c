import { ArgumentError } from "../base/errors.ts";

export interface CountsSqlOptions {
  /** Table or view with one row a unit, or a query in brackets. Stands in the text as it is. */
  readonly from: string;
  readonly columns: {
    /** Whole ticks from the start to the end of follow-up. */
    readonly exit: string;
    /** What ended it, by label; null where nothing did (censored). */
    readonly cause: string;
    readonly group: string;
    readonly stratum?: string;
    /** Whole ticks from the start to coming under observation; null where observed from the start. */
    readonly entry?: string;
  };
  /** As in the descriptor of the counts: the label in the table and the column it is counted in. */
  readonly causes: readonly { readonly label: string; readonly column: string }[];
  /** Joins days to months, which is safer to share and not exact. Default: ticks as they are. */
  readonly monthsFromDays?: boolean;
}

/**
 * The query that makes a counts file from a case table, for any engine that knows window functions.
 *
 * It answers the columns of a counts file: group, stratum (where asked for), time, at_risk, one column a cause,
 * censored, entered. On one tick events come first, censorings after them, entries last. A row whose cause is not
 * among those named counts as at risk and nowhere else, so that reading the counts finds it. Month m holds the days
 * after month m − 1 up to its end, a month being 487/16 days, so events up to a whole year are those of the days.
 *
 * @example
 * countsSql({
 *   from: "follow_up",
 *   columns: { exit: "days", cause: "ended_by", group: "tourniquet" },
 *   causes: [{ label: "loosening", column: "loosening" }, { label: "death", column: "deaths" }],
 * });
 */
export function countsSql(options: CountsSqlOptions): string {
  const { from, columns, causes, monthsFromDays = false } = options;
  if (causes.length === 0) throw new ArgumentError("countsSql: causes must name at least one cause");
  const stratum = columns.stratum === undefined ? "" : ", unit_stratum";
  const counted = [...causes.map((_, at) => `cause_${at + 1}`), "censored", "entered", "leaving"];
  const exit = monthsFromDays ? months("CEIL", columns.exit) : named(columns.exit);
  const happenings = [
    ...causes.map(({ label }, at) => `${oneIf(`unit_cause = ${literal(label)}`)} AS cause_${at + 1}`),
    `${oneIf("unit_cause IS NULL")} AS censored`,
    "0 AS entered",
    "1 AS leaving",
  ];
  return `WITH unit AS (
  SELECT ${[
    `${named(columns.group)} AS unit_group`,
    ...(columns.stratum === undefined ? [] : [`${named(columns.stratum)} AS unit_stratum`]),
    `${named(columns.cause)} AS unit_cause`,
    `${exit} AS exit_tick`,
    ...(columns.entry === undefined ? [] : [`${entryTick(columns.entry, monthsFromDays)} AS entry_tick`]),
  ].join(",\n    ")}
  FROM ${from} AS source_row
),
happening AS (
  SELECT unit_group${stratum}, exit_tick AS tick,
    ${happenings.join(",\n    ")}
  FROM unit${columns.entry === undefined ? "" : entries(causes.length, stratum)}
),
counted AS (
  SELECT unit_group${stratum}, tick,
    ${counted.map((name) => `SUM(${name}) AS ${name}`).join(",\n    ")}
  FROM happening
  GROUP BY unit_group${stratum}, tick
)
SELECT unit_group AS "group",${stratum === "" ? "" : '\n  unit_stratum AS "stratum",'}
  tick AS "time",
  SUM(leaving - entered) OVER (
    PARTITION BY unit_group${stratum} ORDER BY tick DESC ROWS UNBOUNDED PRECEDING
  ) AS "at_risk",
  ${causes.map(({ column }, at) => `cause_${at + 1} AS ${named(column)}`).join(",\n  ")},
  censored AS "censored",
  entered AS "entered"
FROM counted
ORDER BY unit_group${stratum}, tick`;
}

/** Who enters on a tick is at risk from after it. */
function entries(causes: number, stratum: string): string {
  const zeros = Array.from({ length: causes + 1 }, () => "0").join(", ");
  return `
  UNION ALL
  SELECT unit_group${stratum}, entry_tick, ${zeros}, 1, 0
  FROM unit WHERE entry_tick IS NOT NULL`;
}

/** Entry goes down and exit up, so that nobody under observation for a day loses it. */
function entryTick(entry: string, monthsFromDays: boolean): string {
  return monthsFromDays ? months("FLOOR", entry) : named(entry);
}

/** 365.25 days in 12 months. Whole days times 16 and a whole quotient are exact in every number type. */
function months(rounding: "CEIL" | "FLOOR", days: string): string {
  return `CAST(${rounding}(${named(days)} * 16 / 487.0) AS INTEGER)`;
}

function oneIf(condition: string): string {
  return `CASE WHEN ${condition} THEN 1 ELSE 0 END`;
}

/** Names of other people's columns may be anything, reserved words too. */
function named(column: string): string {
  return `"${column.replaceAll('"', '""')}"`;
}

function literal(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}
