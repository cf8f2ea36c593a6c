import { execFileSync } from "node:child_process";
import { describe, expect, it } from "vitest";
import { TIME_UNITS } from "../../src/base/time-unit.ts";
import type { Cleared, ClearedCurve, ClearedCurves } from "../../src/disclosure/cleared.ts";
import { curveFigure, flowFigure } from "../../src/figures/index.ts";
import { idsOf, placedTexts, referencesOf, yearTicks } from "../report/figure-checks.ts";
import { faultsOf, HOSTILE } from "../report/hostile.ts";
import { cleared, countCell, hiddenCell, sampleCurves } from "../report/sample-curves.ts";
import { sampleFlow } from "../report/sample-flow.ts";

const ROOT = new URL("../..", import.meta.url).pathname;
const svgOf = (exhibit: Cleared<ClearedCurves>) => curveFigure(exhibit).svg;

/** A curve exhibit with one group, in days. */
function oneCurve(
  curve: Partial<ClearedCurve>,
  years: readonly number[] = [0, 1, 2],
): Cleared<ClearedCurves> {
  const label = curve.label ?? "all knees";
  const full: ClearedCurve = {
    label,
    style: 0,
    time: [0],
    value: [0],
    low: [null],
    high: [null],
    drawnTo: 0,
    ...curve,
  };
  const cells = years.map(() => countCell(1));
  return cleared({
    ...sampleCurves,
    years,
    curves: [full],
    landmarks: [{ label, style: 0, atRisk: cells, events: cells, censored: cells }],
  });
}

/** The curves themselves: the only lines over two pixels wide that the plot draws. */
function curveLines(svg: string): { group: string; xs: number[] }[] {
  return [...svg.matchAll(/<g([^>]*stroke-width="2\.\d"[^>]*)><path d="([^"]*)"/g)].map(
    ([, group = "", path = ""]) => ({
      group,
      xs: [...path.matchAll(/[ML]([\d.]+),/g)].map((match) => Number(match[1])),
    }),
  );
}

function expectFiniteText(svg: string): void {
  expect(/NaN|undefined|Infinity|null/.exec(svg)?.[0]).toBeUndefined();
}

describe("curveFigure() of joined points", () => {
  const points = {
    time: [0, 200, 365, 600],
    value: [0, 0.01, 0.01, 0.03],
    low: [0, 0.005, 0.005, 0.02],
    high: [0.004, 0.02, 0.02, 0.05],
    drawnTo: 600,
  };
  const drawn = (drawing: ClearedCurves["drawing"]) => svgOf(cleared({ ...oneCurve(points), drawing }));

  it("puts a dot where the line was estimated, and straight lines between", () => {
    const svg = drawn("joined points");
    // Day 365 is only where the line turns up again: nothing was estimated there.
    expect(svg.match(/<circle/g)).toHaveLength(2);
    expect(curveLines(svg)[0]?.xs).toHaveLength(points.time.length + 1);
    expect(svg).toMatch(/dots joined by straight lines, going up from 0/);
  });

  it("never puts a dot on a step line", () => {
    const svg = drawn("steps");
    expect(svg).not.toMatch(/<circle/);
    expect(svg).toMatch(/step curves going up from 0/);
  });
});

describe("curveFigure()", () => {
  it("draws the same bytes twice, and after other figures", () => {
    const first = svgOf(sampleCurves);
    flowFigure(sampleFlow);
    svgOf(oneCurve({ drawnTo: 400 }));
    expect(svgOf(sampleCurves)).toBe(first);
  });

  it("draws the same bytes in a fresh process, in another time zone and locale", () => {
    const code = `
      import { curveFigure } from "./src/figures/index.ts";
      import { sampleCurves } from "./tests/report/sample-curves.ts";
      process.stdout.write(curveFigure(sampleCurves).svg);`;
    const fresh = execFileSync(process.execPath, ["--import", "tsx", "--input-type=module", "-e", code], {
      cwd: ROOT,
      encoding: "utf8",
      env: { ...process.env, TZ: "Pacific/Kiritimati", LC_ALL: "de_DE.UTF-8" },
    });
    expect(fresh).toBe(svgOf(sampleCurves));
  });

  it("is an image with a name and a description whose ids are its own", () => {
    const svg = svgOf(sampleCurves);
    expect(svg).toMatch(/^<svg[^>]*role="img"/);
    expect(svg).toContain('xmlns="http://www.w3.org/2000/svg"');
    const ids = idsOf(svg);
    expect(new Set(ids).size).toBe(ids.length);
    expect(referencesOf(svg).length).toBeGreaterThan(1);
    for (const reference of referencesOf(svg)) expect(ids).toContain(reference);
    for (const id of ids) expect(id).toMatch(/^figure-crude-risk-/);
  });

  it("tells the finding in its description: value and limits at each year, and where each curve ends", () => {
    const description = /<desc[^>]*>([^<]*)<\/desc>/.exec(svgOf(sampleCurves))?.[1] ?? "";
    expect(description).toContain(sampleCurves.question);
    expect(description).toContain("29.3 (15.6 to 43.0) at 10 years");
    expect(description).toContain("12\u202f840 at risk at 0 years");
    expect(description).toContain("tourniquet for cementing only at 6.3 years");
    // The third curve ends at 6.3 years: it has no value at ten.
    expect(description.split("tourniquet for cementing only (")[1]).not.toContain("at 10 years");
  });

  it("sets every number beneath at its year's tick, to within half a pixel", () => {
    const svg = svgOf(sampleCurves);
    const ticks = yearTicks(svg);
    expect(ticks.map(({ text }) => text)).toEqual(["0", "1", "3", "5", "10"]);
    const place = new Map(ticks.map(({ text, x }) => [text, x]));
    const numbers = placedTexts(svg);
    for (const [at, year] of sampleCurves.years.entries()) {
      const tick = place.get(String(year));
      // Years beyond the axis have no tick; the numbers of year 1 would touch those of year 0.
      if (tick === undefined || year === 1) continue;
      const text = sampleCurves.landmarks[0]?.atRisk[at]?.text;
      const found = numbers.filter((number) => number.text === text && Math.abs(number.x - tick) <= 0.5);
      expect(found.length, `at risk at ${year} years`).toBeGreaterThan(0);
    }
  });

  it("prints a 0 at risk, and lets numbers at risk rise with late entries", () => {
    // At 30, 50, 100 and 200 days: 1, 2, 6 and 7 at risk; at 1500 days 0. Worked example with delayed entry.
    const years = [30, 50, 100, 200, 1500].map((day) => day / 365.25);
    const atRisk = [1, 2, 6, 7, 0].map(countCell);
    const exhibit = cleared({
      ...oneCurve({ drawnTo: 1500 }, years),
      years,
      landmarks: [{ label: "all knees", style: 0, atRisk, events: atRisk, censored: atRisk }],
    });
    const svg = svgOf(exhibit);
    const last = yearTicks(svg).at(-1);
    const beneath = placedTexts(svg).filter(({ x }) => Math.abs(x - (last?.x ?? 0)) <= 0.5);
    expect(beneath.map(({ text }) => text)).toEqual(["0", "0", "0"]);
  });

  it("keeps a hidden number the words it was replaced by", () => {
    const shown = sampleCurves.landmarks.flatMap(({ events }) => events).filter(({ hidden }) => hidden);
    expect(shown.length).toBeGreaterThan(0);
    expect(placedTexts(svgOf(sampleCurves)).some(({ text }) => text === hiddenCell.text)).toBe(true);
  });

  it("shades an interval for every group and tells groups apart by dash as well as by colour", () => {
    const svg = svgOf(sampleCurves);
    expect(svg.match(/fill-opacity="0.13"/g)?.length).toBe(3);
    const lines = curveLines(svg).map(({ group }) => ({
      colour: /stroke="([^"]*)"/.exec(group)?.[1],
      dashes: /stroke-dasharray="([^"]*)"/.exec(group)?.[1] ?? "solid",
    }));
    expect(new Set(lines.map(({ colour }) => colour)).size).toBe(3);
    expect(new Set(lines.map(({ dashes }) => dashes)).size).toBe(3);
  });

  it("goes up from 0 and says where the axis ends, below which all limits stay", () => {
    const svg = svgOf(sampleCurves);
    expect(svg).toContain("Share of knees, per 1000 (axis ends at 60 per 1000)");
    const net = svgOf(cleared({ ...sampleCurves, risk: "net" }));
    expect(net).toContain("Share of knees, % (axis ends at 6 %)");
    expect(net).not.toContain("per 1000");
  });

  it("ends a curve where the exhibit ends it", () => {
    const svg = svgOf(
      oneCurve({ time: [0, 100], value: [0, 0.02], low: [null, 0.01], high: [null, 0.03], drawnTo: 365.25 }),
    );
    const lastX = curveLines(svg)[0]?.xs.at(-1);
    expect(lastX).toBeCloseTo(yearTicks(svg).find(({ text }) => text === "1")?.x ?? 0, 1);
  });

  it("stops a band where its limits are undefined", () => {
    const svg = svgOf(
      oneCurve({
        time: [0, 100, 200, 300],
        value: [0, 0.01, 0.02, 0.03],
        low: [null, 0.005, null, 0.01],
        high: [null, 0.02, null, 0.05],
        drawnTo: 400,
      }),
    );
    const bands = [...svg.matchAll(/fill-opacity="0.13"[^>]*><path d="([^"]*)"/g)].map(
      (match) => match[1] ?? "",
    );
    expect(bands).toHaveLength(2);
    const xs = (path: string) => [...path.matchAll(/[ML]([\d.]+),/g)].map((match) => Number(match[1]));
    expect(Math.max(...xs(bands[0] ?? ""))).toBeLessThan(Math.min(...xs(bands[1] ?? "")));
    expectFiniteText(svg);
  });

  it("draws the same picture with and without ticks at which nothing rises", () => {
    const steps = { value: [0, 0.02, 0.03], low: [0, 0.01, 0.015], high: [0.01, 0.03, 0.05], drawnTo: 700 };
    const full = {
      time: [0, 40, 100, 180, 300, 310],
      value: [0, 0, 0.02, 0.02, 0.03, 0.03],
      low: [0, 0, 0.01, 0.01, 0.015, 0.015],
      high: [0.01, 0.01, 0.03, 0.03, 0.05, 0.05],
      drawnTo: 700,
    };
    expect(svgOf(oneCurve(full)) === svgOf(oneCurve({ ...steps, time: [0, 100, 300] }))).toBe(true);
  });

  it("draws one censored knee as a visible line from 0 to its time", () => {
    const svg = svgOf(oneCurve({ drawnTo: 300 }));
    const [line] = curveLines(svg);
    expect((line?.xs.at(-1) ?? 0) - (line?.xs[0] ?? 0)).toBeGreaterThan(100);
    expectFiniteText(svg);
  });

  it.each([
    ["no group", cleared({ ...sampleCurves, curves: [], landmarks: [] })],
    ["a group too small for a curve", cleared({ ...sampleCurves, curves: [] })],
    ["every time at 0", oneCurve({ drawnTo: 0 })],
    ["an empty curve", oneCurve({ time: [], value: [], low: [], high: [], drawnTo: 0 })],
  ])("says a sentence instead of an empty frame: %s", (_name, exhibit) => {
    const svg = svgOf(exhibit);
    expect(svg).toContain("No curve: ");
    expect(svg).not.toContain("<path");
    expectFiniteText(svg);
  });

  it("writes nothing that is not a finite number, in whole or in part of a study", () => {
    expectFiniteText(svgOf(sampleCurves));
    expectFiniteText(
      svgOf(oneCurve({ time: [0, 10], value: [0, 1], low: [null, 1], high: [null, 1], drawnTo: 20 })),
    );
  });

  it("draws months and years as well as days", () => {
    for (const timeUnit of Object.values(TIME_UNITS)) {
      const exhibit = cleared({ ...oneCurve({ drawnTo: 2 * timeUnit.perYear }), timeUnit });
      expect(yearTicks(svgOf(exhibit)).map(({ text }) => text)).toEqual(["0", "1", "2"]);
    }
  });

  it("names a group that has numbers but no curve", () => {
    const exhibit = cleared({ ...sampleCurves, curves: sampleCurves.curves.slice(0, 2) });
    expect(svgOf(exhibit)).toContain("Too few to draw: tourniquet for cementing only.");
  });

  it("prints the stamp inside the figure", () => {
    expect(curveFigure(sampleCurves, { stamp: "INVENTED DATA" }).svg).toContain(">INVENTED DATA</text>");
    expect(svgOf(sampleCurves)).not.toContain("INVENTED");
  });

  it.each(HOSTILE)("shows a label as text: %s", (_name, text) => {
    const curves = sampleCurves.curves.map((curve) => ({ ...curve, label: text }));
    const landmarks = sampleCurves.landmarks.map((row) => ({ ...row, label: text }));
    const exhibit = cleared({
      ...sampleCurves,
      id: text,
      title: text,
      question: text,
      valueLabel: text,
      eventWord: text,
      unitWord: text,
      curves,
      landmarks,
    });
    const { svg, fileName } = curveFigure(exhibit, { stamp: text });
    expect(faultsOf(svg)).toEqual([]);
    expect(fileName).toMatch(/^[A-Za-z0-9_-]*\.svg$/);
    expectFiniteText(svg);
  });

  it("leaves the exhibit as it was", () => {
    const before = JSON.stringify(sampleCurves);
    svgOf(sampleCurves);
    expect(JSON.stringify(sampleCurves)).toBe(before);
  });
});
