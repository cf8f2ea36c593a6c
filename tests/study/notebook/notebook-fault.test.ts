import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { UsageError } from "../../../src/base/errors.ts";
import { planError } from "../../../src/base/plan-error.ts";
import { lineOfFault } from "../../../src/study/notebook/line-of-fault.ts";
import { notebookFault } from "../../../src/study/notebook/notebook-fault.ts";
import { notebookTokens } from "../../../src/study/notebook/notebook-tokens.ts";
import { planLines } from "../../../src/study/notebook/plan-lines.ts";

const TEXT = `import { defineStudy } from "mantle-outcomes";
// covariates: ["role:sexx"] stood here once
const BOTH = ["role:sex"];

export default defineStudy<Fields<"a">>({
  id: "a",
  eligibility: [
    { label: "x", field: "role:why", oneOf: ["oa", 'ra'] },
    { label: "y", field: later({ field: "hidden" }) },
  ],
  covariates: ["role:ageYears", ...BOTH, "role:sexx"],
  "adjusters": [{ field:
    "role:ageYears" }],
  exposure,
});
`;
const lines = planLines(notebookTokens(TEXT));
const lineOf = lineOfFault(TEXT);
const fault = (place: string, written?: string) => ({
  code: "x",
  place,
  what: "is wrong",
  ...(written !== undefined && { written }),
});

describe("lines of a plan in a notebook", () => {
  it("finds every place that is written out", () => {
    const found = [
      "id",
      "eligibility[0].oneOf[1]",
      "eligibility[1].field",
      "covariates[0]",
      "adjusters[0].field",
    ];
    expect(found.map((place) => lines.get(place))).toEqual([6, 8, 9, 11, 13]);
  });

  it("says nothing of what is spread, called or handed over by name", () => {
    const unsure = ["covariates[1]", "covariates[2]", "eligibility[1].field.field", "exposure.step"];
    expect(unsure.map((place) => lines.get(place))).toEqual([undefined, undefined, undefined, undefined]);
    expect(planLines(notebookTokens("const p = { id: 1 }; defineStudy(p)")).size).toBe(0);
    expect(planLines(notebookTokens("defineStudy({ id: 1 }); defineStudy({ id: 2 })")).size).toBe(0);
  });

  it("finds the one line with the word at fault where the place is unsure, and no line where there are two", () => {
    expect(lineOf(fault("covariates[3]", "role:sexx"))).toBe(11);
    expect(lineOf(fault("covariates[9]", "role:ageYears"))).toBeUndefined();
    expect(lineOf(fault("covariates[9]", "nowhere"))).toBeUndefined();
  });

  it("does not name the line of a place at which another word stands", () => {
    expect(lineOf(fault("covariates[0]", "role:sexx"))).toBe(11);
    expect(lineOf(fault("id", "b"))).toBeUndefined();
    expect(lineOf(fault("id"))).toBe(6);
  });
});

describe("notebookFault()", () => {
  const path = join(mkdtempSync(join(tmpdir(), "mantle-fault-")), "a.ts");
  writeFileSync(path, TEXT);

  it("names the notebook, the line, the place, the nearest name and those that exist", () => {
    const known = { heading: "Roles in the export", words: ["role:sex", "role:bmi"] };
    const what = '"role:sexx" names no role; did you mean "role:sex"?';
    const error = notebookFault(
      path,
      planError([{ ...fault("covariates[3]", "role:sexx"), what, known }]),
      false,
    );
    expect(error).toBeInstanceOf(UsageError);
    expect((error as UsageError).message).toBe(
      `${path}, line 11, covariates[3]: ${what}\n  Roles in the export:\n    "role:sex", "role:bmi"`,
    );
  });

  it("lists several faults, each on its line, and each list once and wrapped", () => {
    const words = Array.from({ length: 40 }, (_, at) => `field_${at}`);
    const known = { heading: "Fields of the export", words };
    const faults = [fault("id"), fault("exposure.field")].map((each) => ({ ...each, known }));
    const { message } = notebookFault(path, planError(faults), false) as UsageError;
    const [start, ...rest] = message.split("\n");
    expect(start).toBe(`${path}: 2 places of the plan are to be corrected`);
    expect(rest.slice(0, 3)).toEqual([
      "  line 6, id: is wrong",
      "  exposure.field: is wrong",
      "  Fields of the export:",
    ]);
    expect(Math.max(...rest.map((line) => line.length))).toBeLessThanOrEqual(100);
    for (const word of words) expect(rest.slice(3).join("\n")).toContain(`"${word}"`);
  });
});
