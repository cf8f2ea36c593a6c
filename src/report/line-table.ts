import type { Cleared, ClearedCell, ClearedLines, ClearedTable } from "../disclosure/cleared.ts";
import { mapCleared } from "../disclosure/cleared-value.ts";

/** Every point of every line with its limits. */
export function lineTable(exhibit: Cleared<ClearedLines>): Cleared<ClearedTable> {
  return asTable(exhibit, "points", () => true);
}

/** The points a reader meets on the page: about twelve a line, the last one always. */
export function lineTwin(exhibit: Cleared<ClearedLines>): Cleared<ClearedTable> {
  return asTable(exhibit, "some-points", (at, points) => {
    const each = Math.max(1, Math.ceil(points / 12));
    return at % each === 0 || at === points - 1;
  });
}

function asTable(
  exhibit: Cleared<ClearedLines>,
  suffix: string,
  wanted: (at: number, points: number) => boolean,
): Cleared<ClearedTable> {
  const { id, title, across, up, lines, notes, settings } = exhibit;
  const isShares = lines.some(({ share }) => share);
  // Every number in the rows was read off the cleared exhibit: another arrangement of it shows nothing new.
  return mapCleared(exhibit, () => ({
    kind: "table",
    id: `${id}-${suffix}`,
    title,
    columns: [
      { id: "line", label: "Line", align: "start" },
      { id: "across", label: across, align: "end" },
      { id: "value", label: up, align: "end" },
      { id: "low", label: isShares ? "From" : "Lower limit", align: "end" },
      { id: "high", label: isShares ? "To" : "Upper limit", align: "end" },
    ],
    rows: lines.flatMap(({ label, x, y, low, high }) =>
      x.flatMap((point, at) =>
        wanted(at, x.length)
          ? [
              {
                label,
                heading: false,
                indent: 0,
                cells: [point, y[at] ?? null, low[at] ?? null, high[at] ?? null].map(numberCell),
              },
            ]
          : [],
      ),
    ),
    notes,
    settings,
  }));
}

function numberCell(value: number | null): ClearedCell {
  if (value === null) return { text: "none", values: [], hidden: false };
  return { text: String(Number(value.toPrecision(4))), values: [value], hidden: false };
}
