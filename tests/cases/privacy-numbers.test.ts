import { describe, expect, it } from "vitest";
import { countNumbers, NUMBER_SCHEMES } from "../../src/cases/privacy-numbers.ts";

/** Specimens that issuing authorities and textbooks print to explain their rule; from memory. They are nobody's. */
const SPECIMENS = [
  "79927398713",
  "9434765919",
  "111222333",
  "44051401359",
  "85073003328",
  "12345678Z",
  "131052308T",
  "A123456780",
  "RSSMRA85T10A562S",
];

const passes = (text: string) =>
  NUMBER_SCHEMES.filter(({ shape, isValid, chance }) => chance > 1e-4 && shape.test(text) && isValid(text));

describe("NUMBER_SCHEMES", () => {
  it.each(SPECIMENS)("know the printed specimen %s", (specimen) => {
    const known = NUMBER_SCHEMES.filter(({ shape, isValid }) => shape.test(specimen) && isValid(specimen));
    expect(known.length).toBeGreaterThan(0);
  });

  it("find every slip in one digit, where the rule is a check digit", () => {
    for (const specimen of SPECIMENS.slice(0, 6)) {
      const rules = passes(specimen).filter(({ countedBy }) => countedBy === undefined);
      expect(rules.length).toBeGreaterThan(0);
      const slips = [...specimen].flatMap((mark, at) =>
        [..."0123456789"]
          .filter((other) => /\d/.test(mark) && other !== mark)
          .map((other) => specimen.slice(0, at) + other + specimen.slice(at + 1)),
      );
      // A slip may by chance satisfy another rule, but never the one that the specimen follows.
      for (const { isValid, shape } of rules.slice(0, 1)) {
        expect(slips.filter((slip) => shape.test(slip) && isValid(slip))).toEqual([]);
      }
    }
  });
});

/** Ten digits whose last makes the weighted sum a multiple of 11: a second way to the same rule. */
function checked(count: number): string[] {
  const made: string[] = [];
  for (let body = 481_502_377; made.length < count; body += 7_654_321) {
    const digits = [...String(body)].map(Number);
    const sum = digits.reduce((total, digit, at) => total + digit * (10 - at), 0);
    const check = (11 - (sum % 11)) % 11;
    if (check < 10) made.push(`${body}${check}`);
  }
  return made;
}

describe("countNumbers()", () => {
  it("counts numbers that follow one rule, however they are spaced", () => {
    const numbers = checked(20);
    expect(countNumbers(numbers)).toBe(20);
    expect(
      countNumbers(numbers.map((text) => `${text.slice(0, 3)} ${text.slice(3, 6)}-${text.slice(6)}`)),
    ).toBe(20);
  });

  it("needs four in five of one form to follow it", () => {
    const numbers = checked(20);
    const spoilt = (count: number) =>
      numbers.map((text, at) => (at < count ? `${text.slice(0, 9)}${(Number(text[9]) + 5) % 10}` : text));
    expect(countNumbers(spoilt(4))).toBe(16);
    expect(countNumbers(spoilt(5))).toBe(0);
  });

  it("says nothing on two numbers, which may pass by chance, and speaks from three on", () => {
    expect(countNumbers(checked(2))).toBe(0);
    expect(countNumbers(checked(3))).toBe(3);
  });

  it("finds a few among many other values", () => {
    const local = Array.from({ length: 50_000 }, (_, at) => `K${1_000_000 + at}`);
    expect(countNumbers([...local, ...checked(12)])).toBe(12);
  });

  it.each([
    [
      "counted case numbers of ten digits",
      Array.from({ length: 5000 }, (_, at) => String(1_001_300_001 + at)),
    ],
    ["counted numbers of nine digits", Array.from({ length: 5000 }, (_, at) => String(100_000_001 + at))],
    [
      "numbers made of the operation day",
      Array.from(
        { length: 3000 },
        (_, at) =>
          `${2008 + (at % 15)}${String((at % 12) + 1).padStart(2, "0")}${String((at % 28) + 1).padStart(2, "0")}${String(at % 1000).padStart(3, "0")}`,
      ),
    ],
    [
      "days",
      Array.from(
        { length: 3000 },
        (_, at) => `2015-${String((at % 12) + 1).padStart(2, "0")}-${String((at % 28) + 1).padStart(2, "0")}`,
      ),
    ],
    ["short codes", Array.from({ length: 3000 }, (_, at) => `P${String(at).padStart(5, "0")}`)],
    ["nothing", []],
  ])("raises no alarm on %s", (_name, texts) => {
    expect(countNumbers(texts)).toBe(0);
  });
});
