import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { wrappedText } from "../../src/cli/wrapped-text.ts";

describe("wrappedText()", () => {
  it("breaks long lines at spaces and sets what follows further in", () => {
    const text = `short\n  field "side": accepted: ${["caseId", "patientId", "side", "centre"].join(", ")}`;
    expect(wrappedText(text, 40)).toBe(
      'short\n  field "side": accepted: caseId,\n    patientId, side, centre',
    );
  });

  it("leaves what goes to no terminal, or to a very narrow one, as it is", () => {
    const text = "word ".repeat(50);
    expect(wrappedText(text, undefined)).toBe(text);
    expect(wrappedText(text, 20)).toBe(text);
  });

  it("keeps every word in its order, and no line longer than the terminal but for a long word (property)", () => {
    const word = fc.stringMatching(/^[a-z,;]{1,20}$/);
    fc.assert(
      fc.property(
        fc.array(word, { minLength: 1, maxLength: 60 }),
        fc.integer({ min: 40, max: 120 }),
        (words, width) => {
          const lines = wrappedText(words.join(" "), width).split("\n");
          expect(lines.flatMap((line) => line.trim().split(" "))).toEqual(words);
          for (const line of lines) expect(line.length).toBeLessThanOrEqual(width);
        },
      ),
    );
  });
});
