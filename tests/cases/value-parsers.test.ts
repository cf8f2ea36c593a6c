import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dateOfDay, dayNumber } from "../../src/base/day-number.ts";
import { dayParser } from "../../src/cases/day-cell.ts";
import { numberParser } from "../../src/cases/number-cell.ts";

const encode = (text: string) => Buffer.from(text);
const SEED = 20_240_713;

describe("dayParser()", () => {
  const parsed = (text: string, format = "default") => {
    const bytes = Buffer.from(`<${text}>`);
    return dayParser(format, encode)(bytes, 1, bytes.length - 1);
  };

  it("agrees with the calendar of the platform on every day of four centuries (twin)", () => {
    for (let day = -73_000; day < 73_200; day += 1) {
      if (parsed(dateOfDay(day)) !== day) throw new Error(`${dateOfDay(day)} is another day`);
    }
  });

  it("agrees with it on what is no date (twin)", () => {
    const part = fc.stringMatching(/^[0-9]{2}$/);
    fc.assert(
      fc.property(fc.constantFrom("19", "20", "15"), part, part, part, (century, year, month, day) => {
        const text = `${century}${year}-${month}-${day}`;
        expect(parsed(text)).toBe(dayNumber(text));
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  it("counts from the first of January of the year 1 (closed form: 719,162 days before 1970)", () => {
    expect(parsed("0001-01-01")).toBe(-719_162);
    expect(parsed("0000-12-31")).toBeUndefined();
  });

  it.each([
    ["%d/%m/%Y", "31/12/2024"],
    ["%m-%d-%Y", "12-31-2024"],
    ["%Y%m%d", "20241231"],
    ["den %d.%m.%Y år", "den 31.12.2024 år"],
  ])("reads %s", (format, text) => {
    expect(parsed(text, format)).toBe(dayNumber("2024-12-31"));
    expect(parsed(`${text}0`, format)).toBeUndefined();
  });

  it("reads nothing where the file's encoding lacks a sign of the format", () => {
    const parse = dayParser("%Y年%m-%d", (text) => (text.includes("年") ? undefined : encode(text)));
    expect(parse(encode("2024年12-31"), 0, 13)).toBeUndefined();
  });
});

describe("numberParser()", () => {
  const parsed = (text: string, decimalChar = ".", whole = false) => {
    const bytes = Buffer.from(`1${text}1`);
    return numberParser({ decimalChar, whole })(bytes, 1, bytes.length - 1);
  };

  it("gives the double nearest to any plain decimal, long or short (twin: the language's own)", () => {
    fc.assert(
      fc.property(fc.stringMatching(/^-?[0-9]{1,20}([.][0-9]{1,20})?$/), (text) => {
        const expected = Number(text);
        expect(parsed(text)).toBe(expected === 0 ? 0 : expected);
        expect(parsed(text.replace(".", ","), ",")).toBe(expected === 0 ? 0 : expected);
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  it("takes whole numbers up to the last one that has no neighbour of equal value", () => {
    expect(parsed("9007199254740991", ".", true)).toBe(Number.MAX_SAFE_INTEGER);
    expect(parsed("9007199254740992", ".", true)).toBeUndefined();
    expect(parsed("1.0", ".", true)).toBeUndefined();
  });

  it.each([
    "",
    "-",
    ".",
    ".5",
    "5.",
    "-.5",
    "1.2.3",
    "+1",
    "1e3",
    "0x1",
    "1 ",
    "--1",
    "½",
    "٣",
    "9".repeat(400),
  ])("refuses %j", (text) => {
    expect(parsed(text)).toBeUndefined();
  });
});
