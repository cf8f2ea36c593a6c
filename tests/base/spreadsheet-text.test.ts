import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { guardedText, isRunBySpreadsheets, unguardedText } from "../../src/base/spreadsheet-text.ts";

const text = fc.string({
  unit: fc.constantFrom("=", "+", "-", "@", "'", "\t", "\r", "1", ".", ",", "a", " "),
  maxLength: 8,
});

describe("guardedText()", () => {
  it.each(["=1+1", "+49 30", "-x", "-1-1", "@ref", "\tTab", "\rReturn", "-", "--", "-1e3"])(
    "guards %j",
    (one) => expect(guardedText(one)).toBe(`'${one}`),
  );

  it.each(["-5", "-0.5", "-0,5", "12", "", "a=1", "'quoted'", "''"])("leaves %j alone", (one) =>
    expect(guardedText(one)).toBe(one),
  );

  it("gives no text that a spreadsheet would run, and keeps two texts apart", () => {
    expect(guardedText("'=1")).toBe("''=1");
    fc.assert(fc.property(text, (one) => !isRunBySpreadsheets(guardedText(one))));
  });

  it("is undone by unguardedText()", () => {
    fc.assert(fc.property(text, (one) => unguardedText(guardedText(one)) === one));
    expect(unguardedText("'a'")).toBe("'a'");
  });
});
