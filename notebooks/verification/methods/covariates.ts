import type { Column } from "../../../src/base/column.ts";
import { covariateTable } from "../../../src/summaries/covariate-table.ts";
import { describeNumbers } from "../../../src/summaries/describe-numbers.ts";
import { proportionDifference } from "../../../src/summaries/proportion-difference.ts";
import { proportionInterval } from "../../../src/summaries/proportion-interval.ts";
import {
  standardisedCategoryDifference,
  standardisedDifference,
  standardisedShareDifference,
} from "../../../src/summaries/standardised-difference.ts";
import {
  codeColumn,
  numberColumn,
  referenceRecord,
  referenceRows,
} from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { REFERENCES } from "../references.ts";

/** What a covariate table is made of. */
export function covariateChecks(): Method {
  return {
    id: "covariates",
    title: "Covariate table: summaries, standardised differences, proportions",
    functions: [
      "covariateTable",
      "describeNumbers",
      "standardisedDifference",
      "standardisedShareDifference",
      "standardisedCategoryDifference",
      "proportionInterval",
      "proportionDifference",
    ],
    examples: [summaries(), standardised(), wholeTable(), shares(), differences()],
  };
}

const rowsOf = (treated: boolean) =>
  referenceRows("lalonde.csv").filter((row) => row.treat === (treated ? "1" : "0"));

function summaries(): Example {
  const reference = referenceRecord("20_summaries", "summaries.lalonde");
  const fields = { age: "Age", educ: "Years of schooling", re74: "Earnings 1974, mostly 0" };
  return {
    title: "Job training, 185 treated and 429 others (LaLonde 1986, Dehejia and Wahba's selection)",
    fromMemory: false,
    reference: `${REFERENCES.base}: sample standard deviation, quartiles linear between ordered values`,
    checks: Object.entries(fields).map(([field, words]) => {
      const both = [true, false].map((treated) => {
        const { centre, spread } = describeNumbers(numberColumn(rowsOf(treated), field));
        const { mean, lowerQuartile, median, upperQuartile, minimum, maximum } = answered(centre);
        return [mean, answered(spread).value, lowerQuartile, median, upperQuartile, minimum, maximum];
      });
      const { treated, control } = reference.expected[field];
      return seriesCheck(
        `${words}: mean, standard deviation, quartiles, ends`,
        both.flat(),
        [treated, control].flatMap(({ mean, sd, lowerQuartile, median, upperQuartile, least, most }) => [
          mean,
          sd,
          lowerQuartile,
          median,
          upperQuartile,
          least,
          most,
        ]),
        toleranceOf(reference),
      );
    }),
  };
}

function standardised(): Example {
  const reference = referenceRecord("08_groups", "smd.lalonde");
  const { expected } = reference;
  const numbers = ["age", "educ", "re74", "re75"].map((field) => ({
    field,
    ours: standardisedDifference(numberColumn(rowsOf(true), field), numberColumn(rowsOf(false), field)),
  }));
  const countOf = (treated: boolean, field: string, value: string) =>
    rowsOf(treated).filter((row) => row[field] === value).length;
  const part = (treated: boolean, field: string) => ({
    count: countOf(treated, field, "1"),
    total: rowsOf(treated).length,
  });
  const binary = ["married", "nodegree"].map((field) => ({
    field,
    ours: standardisedShareDifference(part(true, field), part(false, field)),
  }));
  const races = (treated: boolean) =>
    (expected.raceLevels as string[]).map((race) => countOf(treated, "race", race));
  const race = { field: "race", ours: standardisedCategoryDifference(races(true), races(false)) };
  return {
    title: "The same groups: standardised differences as Yang and Dalton 2012 define them",
    fromMemory: false,
    reference: `${REFERENCES.base}, the definition written out`,
    checks: [...numbers, ...binary, race].map(({ field, ours }) =>
      valueCheck(`${field}`, answered(ours).value, expected[field], toleranceOf(reference)),
    ),
  };
}

/** The same numbers once more, through the table that reports print. */
function wholeTable(): Example {
  const reference = referenceRecord("08_groups", "smd.lalonde");
  const { raceLevels, raceProportionsTreated, raceProportionsControl } = reference.expected;
  const rows = referenceRows("lalonde.csv");
  const missing = new Uint8Array(rows.length);
  const numbers = ["age", "educ", "re74", "re75"];
  const columns: Column[] = numbers.map((field) => ({
    kind: "number",
    field,
    missing,
    missingReasons: [],
    values: Float64Array.from(numberColumn(rows, field)),
  }));
  const race = codeColumn(rows, "race", raceLevels);
  columns.push({
    kind: "code",
    field: "race",
    missing,
    missingReasons: [],
    values: Uint8Array.from(race.codes),
    codes: race.labels,
    labels: race.labels,
  });
  const table = covariateTable({
    covariates: columns.map((column) => ({ label: column.field, column })),
    rows: [...rows.keys()],
    group: codeColumn(rows, "treat", ["1", "0"], ["treated", "others"]),
  });
  const inGroup = (group: number) =>
    table.covariates.flatMap((row) =>
      row.kind === "code" ? row.categories.map(({ groups }) => answered(groups[group]?.share).value) : [],
    );
  return {
    title: "The same groups in one covariate table",
    fromMemory: false,
    reference: `${REFERENCES.base}, the definition written out`,
    checks: [
      seriesCheck(
        "Standardised differences of five covariates",
        table.covariates.map(({ differences }) => answered(differences[0]?.difference).value),
        [...numbers, "race"].map((field) => reference.expected[field]),
        toleranceOf(reference),
      ),
      seriesCheck(
        "Shares of three categories in both groups",
        [...inGroup(0), ...inGroup(1)],
        [...raceProportionsTreated, ...raceProportionsControl],
        toleranceOf(reference),
      ),
    ],
  };
}

function shares(): Example {
  const reference = referenceRecord("08_groups", "prop.single");
  const { cases } = reference.input as { cases: string[] };
  const methods = [
    { method: "wilson", name: "wilson", words: "Wilson" },
    { method: "exact", name: "clopperPearson", words: "Clopper–Pearson" },
  ] as const;
  return {
    title: "Limits of a proportion (examples of Newcombe 1998)",
    printedIn: "Newcombe 1998, Statistics in Medicine 17, page 857, table I",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.base,
    checks: methods.flatMap(({ method, name, words }) =>
      cases.flatMap((text, at) => {
        const [count = 0, total = 0] = text.split("/").map(Number);
        const { low, high } = answered(proportionInterval({ count, total }, { method }));
        const { lower, upper } = reference.expected[name][text];
        const figures = reference.published.figures[name];
        const row = (side: string, ours: number, theirs: number, place: number) =>
          valueCheck(`${words}, ${count} of ${total}, ${side}`, ours, theirs, toleranceOf(reference), {
            figure: figures[place],
            decimals: 4,
          });
        return [row("lower", low, lower, 2 * at), row("upper", high, upper, 2 * at + 1)];
      }),
    ),
  };
}

function differences(): Example {
  const reference = referenceRecord("08_groups", "prop.newcombe_difference");
  const tolerance = toleranceOf(reference);
  const input = reference.input as Record<string, [number, number, number, number]>;
  const cases = Object.entries(input).map(([name, [a, m, b, n]]) => ({
    words: `${a} of ${m} less ${b} of ${n}`,
    ours: answered(proportionDifference({ count: a, total: m }, { count: b, total: n })),
    theirs: reference.expected[name],
  }));
  return {
    title: "Limits of a difference of proportions, from two Wilson limits (examples of Newcombe 1998)",
    printedIn: "Newcombe 1998, Statistics in Medicine 17, page 873, table II, method 10",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.base,
    checks: [
      ...cases.map(({ words, ours, theirs }, at) =>
        seriesCheck(`${words}: limits`, [ours.low, ours.high], [theirs.lower, theirs.upper], tolerance, {
          figures: reference.published.figures.slice(2 * at, 2 * at + 2),
          decimals: 4,
        }),
      ),
      seriesCheck(
        "Differences of all eight",
        cases.map(({ ours }) => ours.difference),
        cases.map(({ theirs }) => theirs.difference),
        tolerance,
      ),
    ],
  };
}
