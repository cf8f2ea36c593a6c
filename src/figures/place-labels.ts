/** A rectangle in pixels. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface LabelWish {
  /** Where the label would best start, and the height at which it would best be centred. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** What this label may not cover: the lines of other groups. */
  readonly obstacles: readonly Box[];
}

const SHIFT_PIXELS = 3;
const GAP_PIXELS = 2;

/**
 * Vertical centres for labels so that none covers another or a line of another group, each as near to its wish
 * as it can be, all between `top` and `bottom`.
 *
 * Labels choose in the order of their wished heights, so the picture does not depend on the order of the groups.
 */
export function placeLabels(wishes: readonly LabelWish[], top: number, bottom: number): number[] {
  const order = wishes.map((_, at) => at).sort((a, b) => heightOf(wishes, a) - heightOf(wishes, b) || a - b);
  const centres = wishes.map((wish) => wish.y);
  const taken: Box[] = [];
  for (const at of order) {
    const wish = wishes[at];
    if (wish === undefined) continue;
    const centre = nearestFree(wish, taken, top, bottom);
    centres[at] = centre;
    taken.push(boxAt(wish, centre));
  }
  return centres;
}

function nearestFree(wish: LabelWish, taken: readonly Box[], top: number, bottom: number): number {
  const half = wish.height / 2;
  const clamp = (centre: number) => Math.min(bottom - half, Math.max(top + half, centre));
  const start = clamp(wish.y);
  const tries = Math.ceil((bottom - top) / SHIFT_PIXELS);
  const free = (blocked: readonly Box[]) => {
    for (let step = 0; step <= tries; step += 1) {
      for (const centre of [clamp(start - step * SHIFT_PIXELS), clamp(start + step * SHIFT_PIXELS)]) {
        const box = boxAt(wish, centre);
        if (!blocked.some((other) => overlap(box, other))) return centre;
      }
    }
    return undefined;
  };
  // Where lines leave no room at all, keeping labels apart comes first: a label has a pale edge of its own.
  return free([...taken, ...wish.obstacles]) ?? free(taken) ?? start;
}

function boxAt(wish: LabelWish, centre: number): Box {
  const half = wish.height / 2;
  return { left: wish.x, right: wish.x + wish.width, top: centre - half, bottom: centre + half };
}

function overlap(a: Box, b: Box): boolean {
  return (
    a.left < b.right && b.left < a.right && a.top < b.bottom + GAP_PIXELS && b.top < a.bottom + GAP_PIXELS
  );
}

function heightOf(wishes: readonly LabelWish[], at: number): number {
  return wishes[at]?.y ?? 0;
}
