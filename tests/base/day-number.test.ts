import { describe, expect, it } from "vitest";
import { dateOfDay, dayNumber, requiredDayNumber, yearOfDay } from "../../src/base/day-number.ts";

describe("dayNumber()", () => {
  it("counts whole days from 1970-01-01", () => {
    expect(dayNumber("1970-01-01")).toBe(0);
    expect(dayNumber("2000-03-01")).toBe(11_017); // closed form: 30 years of 365 days, 7 leap days, 31 + 29
    expect(dayNumber("1969-12-31")).toBe(-1);
  });

  it("refuses days that no calendar has, and other ways of writing", () => {
    for (const text of [
      "2019-02-29",
      "2019-02-30",
      "2019-13-01",
      "2019-1-1",
      "01/02/2019",
      "",
      "2019-01-01T00:00",
    ]) {
      expect(dayNumber(text)).toBeUndefined();
    }
  });

  it("comes back as it went in, in every time zone", () => {
    const zone = process.env.TZ;
    try {
      for (const other of ["America/Sao_Paulo", "Pacific/Apia", "UTC"]) {
        process.env.TZ = other;
        for (let day = -1000; day < 30_000; day += 137) expect(dayNumber(dateOfDay(day))).toBe(day);
      }
    } finally {
      if (zone === undefined) delete process.env.TZ;
      else process.env.TZ = zone;
    }
  });
});

describe("requiredDayNumber()", () => {
  it("names the place of a wrong date", () => {
    expect(() => requiredDayNumber("31.12.2024", "study.dataCut")).toThrow(/study\.dataCut.*2024-12-31/);
  });
});

describe("yearOfDay()", () => {
  it("turns at midnight of New Year", () => {
    expect(yearOfDay(dayNumber("2019-12-31") ?? 0)).toBe(2019);
    expect(yearOfDay(dayNumber("2020-01-01") ?? 0)).toBe(2020);
  });
});
