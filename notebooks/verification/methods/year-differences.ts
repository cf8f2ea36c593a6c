import { normalUpperQuantile } from "../../../src/numeric/normal.ts";
import { countsByTime } from "../../../src/survival/counts-by-time.ts";
import { yearDifference } from "../../../src/survival/year-difference.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Method, seriesCheck, valueCheck } from "../check.ts";
import { answered } from "../curves.ts";
import { gammopathy } from "../gammopathy.ts";
import { bySex, TITLE } from "./incidence-data.ts";

/** Differences of two groups at a stated year. */
export function differenceChecks(): Method {
  const reference = bySex();
  const years = [1, 5, 10, 15];
  const counts = countsByTime(gammopathy("sex"));
  const differences = (cause: string) =>
    yearDifference(counts, { measure: "incidence", cause, years }).map((answer) => answered(answer));
  const z = normalUpperQuantile(0.025);
  return {
    id: "year-differences",
    title: "Difference of two groups at stated years",
    functions: ["yearDifference"],
    examples: [
      {
        title: `Women less men: ${TITLE}`,
        fromMemory: false,
        reference:
          "difference and summed variances of the reference incidences (R 4.2.2 with survival 3.5-3)",
        checks: ["malignancy", "death"].flatMap((cause, index) => {
          const ours = differences(cause);
          const theirs = years.map((year) => {
            const [a, b] = ["F", "M"].map((sex) => at(reference.expected[sex], index + 1, 12 * year));
            const difference = (a?.value ?? 0) - (b?.value ?? 0);
            const se = Math.hypot(a?.se ?? 0, b?.se ?? 0);
            return { difference, se, limits: [difference - z * se, difference + z * se] };
          });
          const tolerance = toleranceOf(reference, "se");
          return [
            valueCheck(
              `Difference at 10 years, ${cause}`,
              ours[2]?.difference,
              theirs[2]?.difference,
              tolerance,
            ),
            seriesCheck(
              `Differences at 1, 5, 10 and 15 years, ${cause}`,
              ours.map(({ difference }) => difference),
              theirs.map(({ difference }) => difference),
              tolerance,
            ),
            seriesCheck(
              `Standard errors, ${cause}`,
              ours.map(({ standardError }) => standardError),
              theirs.map(({ se }) => se),
              tolerance,
            ),
            seriesCheck(
              `95 % limits, ${cause}`,
              ours.flatMap(({ lower, upper }) => [lower, upper]),
              theirs.flatMap(({ limits }) => limits),
              tolerance,
            ),
          ];
        }),
      },
    ],
  };
}

// biome-ignore lint/suspicious/noExplicitAny: the shape of a reference record is its own
function at(group: any, cause: number, time: number): { value: number; se: number } {
  const place = group.times.indexOf(time);
  const { cif, seInfinitesimalJackknife: se } = group[`cause${cause}`];
  return { value: cif[place], se: se[place] };
}
