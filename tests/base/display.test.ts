import { describe, expect, it } from "vitest";
import { count, fixed, percent, pValue, roundSignificant, significant } from "../../src/base/display.ts";

describe("fixed()", () => {
  it("prints a minus sign, not a hyphen, and none on a value that rounds to nothing", () => {
    expect(fixed(-1.25, 1)).toBe("−1.3");
    expect(fixed(-0.04, 1)).toBe("0.0");
  });

  it("sets thousands apart from five digits on", () => {
    expect(fixed(8012, 0)).toBe("8012");
    expect(fixed(1234567.891, 2)).toBe("1\u202f234\u202f567.89");
  });

  it("refuses what is not a finite number", () => {
    expect(() => fixed(Number.NaN, 1)).toThrow(/finite/);
    expect(() => fixed(Number.POSITIVE_INFINITY, 1)).toThrow(/finite/);
  });
});

describe("pValue()", () => {
  it("shows two figures, a floor and a ceiling, never 0 and never 1", () => {
    expect(pValue(0.0341)).toBe("0.034");
    expect(pValue(0.21)).toBe("0.21");
    expect(pValue(0.000999)).toBe("< 0.001");
    expect(pValue(0)).toBe("< 0.001");
    expect(pValue(0.999)).toBe("> 0.99");
    expect(pValue(0.00102)).toBe("0.0010");
  });
});

describe("significant()", () => {
  it("keeps the stated figures without an exponent", () => {
    expect(significant(0.00012345, 3)).toBe("0.000123");
    expect(significant(99.96, 3)).toBe("100");
    expect(significant(123456, 2)).toBe("120\u202f000");
    expect(significant(0, 3)).toBe("0");
  });
});

describe("percent(), count(), roundSignificant()", () => {
  it("print what a reader expects", () => {
    expect(percent(0.0345, 1)).toBe("3.5 %");
    expect(count(12345)).toBe("12\u202f345");
    expect(roundSignificant(123456, 3)).toBe(123000);
  });
});
