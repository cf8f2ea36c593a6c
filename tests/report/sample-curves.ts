import { TIME_UNITS } from "../../src/base/time-unit.ts";
import type {
  Cleared,
  ClearedCell,
  ClearedCurve,
  ClearedCurves,
  ClearedExhibit,
} from "../../src/disclosure/cleared.ts";

/** Tests alone may call a hand-made exhibit cleared: nothing in it comes from a person. */
export function cleared<Exhibit extends ClearedExhibit>(exhibit: Exhibit): Cleared<Exhibit> {
  return exhibit as Cleared<Exhibit>;
}

export function textCell(text: string): ClearedCell {
  return { text, values: [], hidden: false };
}

export function numberCell(text: string, ...values: number[]): ClearedCell {
  return { text, values, hidden: false };
}

export function countCell(value: number): ClearedCell {
  return numberCell(String(value).replace(/\B(?=(\d{3})+$)/g, value < 10_000 ? "" : "\u202f"), value);
}

export const hiddenCell: ClearedCell = { text: "under 5", values: [], hidden: true };

/** A curve that bends like the risk of a late event, in steps of some months. Drawn by hand, not estimated. */
export function inventedCurve(label: string, style: number, height: number, drawnTo: number): ClearedCurve {
  const time = [0];
  for (let tick = 60 + 17 * style; tick < drawnTo; tick += 83 + 11 * style) time.push(tick);
  const value = time.map((tick) => {
    const years = tick / 365.25;
    return Number(((height * years * (years + 3)) / 180).toFixed(4));
  });
  const width = (step: number) => 0.0015 + (value[step] ?? 0) * (0.2 + 0.06 * ((time[step] ?? 0) / 1000));
  return {
    label,
    style,
    time,
    value,
    low: value.map((share, step) =>
      step === 0 ? null : Math.max(0, Number((share - width(step)).toFixed(4))),
    ),
    high: value.map((share, step) => (step === 0 ? null : Number((share + width(step)).toFixed(4)))),
    drawnTo,
  };
}

export const sampleCurves: Cleared<ClearedCurves> = cleared({
  kind: "curves",
  id: "crude-risk",
  title: "Aseptic loosening: crude risk",
  question:
    "Out of all knees, how many have had a revision for this by then, knowing that some people die or have another revision first?",
  risk: "crude",
  valueLabel: "Share of knees",
  eventWord: "revisions",
  unitWord: "knees",
  timeUnit: TIME_UNITS.day,
  drawing: "steps",
  years: [0, 1, 3, 5, 10, 15],
  curves: [
    inventedCurve("tourniquet throughout", 0, 0.041, 4018),
    inventedCurve("no tourniquet", 1, 0.029, 3872),
    inventedCurve("tourniquet for cementing only", 2, 0.034, 2301),
  ],
  landmarks: [
    {
      label: "tourniquet throughout",
      style: 0,
      atRisk: [12840, 11902, 9120, 6377, 1204, 0].map(countCell),
      events: [countCell(0), countCell(9), countCell(44), countCell(91), countCell(233), countCell(241)],
      censored: [0, 700, 3201, 5710, 10204, 11370].map(countCell),
      competing: [0, 229, 475, 662, 1199, 1229].map(countCell),
    },
    {
      label: "no tourniquet",
      style: 1,
      atRisk: [4102, 3841, 2933, 1981, 377, 0].map(countCell),
      events: [countCell(0), hiddenCell, countCell(11), countCell(24), countCell(58), countCell(60)],
      censored: [0, 189, 1005, 1866, 3301, 3660].map(countCell),
      competing: [0, 70, 153, 231, 366, 382].map(countCell),
    },
    {
      label: "tourniquet for cementing only",
      style: 2,
      atRisk: [1210, 1080, 702, 388, 31, 0].map(countCell),
      events: [countCell(0), hiddenCell, hiddenCell, countCell(8), countCell(12), countCell(12)],
      censored: [0, 110, 455, 742, 1080, 1110].map(countCell),
      competing: [0, 18, 49, 72, 87, 88].map(countCell),
    },
  ],
  notes: ["Aalen–Johansen estimate; shaded: 95 % interval."],
  settings: { estimate: "cumulative incidence", level: 0.95 },
});
