import { eValue, type RatioKind } from "../../../src/summaries/e-value.ts";
import { referenceRecord } from "../../../tests/reference/reference-files.ts";
import { toleranceOf } from "../../../tests/reference/tolerance.ts";
import { type Example, type Method, seriesCheck, valueCheck } from "../check.ts";
import { REFERENCES } from "../references.ts";

export function eValueChecks(): Method {
  return {
    id: "unrecorded",
    title: "How strong something unrecorded would have to be",
    functions: ["eValue"],
    examples: [feeding(), kinds()],
  };
}

function feeding(): Example {
  const reference = referenceRecord("14_evalue_multiplicity", "evalue.vdw_ding");
  const { rr: ratio, lower, upper } = reference.input as Record<"rr" | "lower" | "upper", number>;
  const found = eValue({ ratio, lower, upper });
  const [estimate, limit] = reference.published.figures;
  return {
    title: "Ratio of risks 3.9 (1.8 to 8.7), breast feeding and respiratory death",
    printedIn: "VanderWeele and Ding 2017",
    fromMemory: reference.valueFromMemory,
    reference: REFERENCES.base,
    checks: [
      valueCheck(
        "To explain the estimate",
        found.estimate,
        reference.expected.estimate,
        toleranceOf(reference),
        {
          figure: estimate,
          decimals: 2,
        },
      ),
      valueCheck(
        "To let the interval reach 1",
        found.limit,
        reference.expected.limit,
        toleranceOf(reference),
        { figure: limit, decimals: 2 },
      ),
    ],
  };
}

function kinds(): Example {
  const reference = referenceRecord("14_evalue_multiplicity", "evalue.more");
  const input = reference.input as Record<string, number[]>;
  const check = (
    name: string,
    given: string,
    of: RatioKind,
    outcome: "rare" | "common",
    expected: string,
  ) => {
    const [ratio = 0, lower = 0, upper = 0] = input[given] ?? [];
    const { estimate, limit } = eValue({ ratio, lower, upper }, { of, outcome });
    return seriesCheck(name, [estimate, limit], reference.expected[expected], toleranceOf(reference));
  };
  return {
    title: "Ratios below 1, intervals that hold 1, hazards and odds (constructed)",
    fromMemory: false,
    reference: REFERENCES.base,
    checks: [
      check("A ratio below 1", "protective", "risk", "rare", "protective"),
      check("An interval that holds 1", "crosses", "risk", "rare", "crosses"),
      check("Hazards, rare outcome", "hazardRatio", "hazard", "rare", "hrRare"),
      check("Hazards, common outcome", "hazardRatio", "hazard", "common", "hrCommon"),
      check("Odds, common outcome", "oddsRatio", "odds", "common", "orCommon"),
    ],
  };
}
