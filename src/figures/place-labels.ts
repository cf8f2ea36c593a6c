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
  /** What it covers only where there is no other room: the shading of other groups. */
  readonly shading?: readonly Box[];
}

const SHIFT_PIXELS = 3;
const GAP_PIXELS = 2;

/**
 * Vertical centres for labels so that none covers another or a line of another group, each as near to its wish
 * as it can be, all between `top` and `bottom`.
 *
 * Labels with open room to their right keep the order of their wishes, so that no two leaders cross. The others
 * follow in the order of their wished heights: the picture does not depend on the order of the groups.
 */
export function placeLabels(wishes: readonly LabelWish[], top: number, bottom: number): number[] {
  const order = wishes.map((_, at) => at).sort((a, b) => heightOf(wishes, a) - heightOf(wishes, b) || a - b);
  const centres = wishes.map((wish) => wish.y);
  const openRoom = wishes.map(({ x, obstacles }) => obstacles.every(({ right }) => right <= x));
  const taken: Box[] = [];
  const place = (at: number, centreFor: (wish: LabelWish) => number) => {
    const wish = wishes[at];
    if (wish === undefined) return;
    const centre = centreFor(wish);
    centres[at] = centre;
    taken.push(boxAt(wish, centre));
  };
  const open = order.filter((at) => openRoom[at]);
  const stacked = stackInOrder(
    open.flatMap((at) => wishes[at] ?? []),
    top,
    bottom,
  );
  for (const [rank, at] of open.entries()) place(at, (wish) => stacked[rank] ?? wish.y);
  for (const at of order) if (!openRoom[at]) place(at, (wish) => nearestFree(wish, taken, top, bottom));
  return centres;
}

interface Pile {
  readonly members: readonly LabelWish[];
  readonly top: number;
  readonly height: number;
}

/** Labels one under the other in the order given; those that would touch form a pile around their mean wish. */
function stackInOrder(wishes: readonly LabelWish[], top: number, bottom: number): number[] {
  const piles: Pile[] = [];
  for (const wish of wishes) {
    let pile = pileOf([wish], top, bottom);
    for (let above = piles.at(-1); above !== undefined; above = piles.at(-1)) {
      if (above.top + above.height + GAP_PIXELS <= pile.top) break;
      piles.pop();
      pile = pileOf([...above.members, ...pile.members], top, bottom);
    }
    piles.push(pile);
  }
  return piles.flatMap((pile) => {
    let y = pile.top;
    return pile.members.map(({ height }) => {
      const centre = y + height / 2;
      y += height + GAP_PIXELS;
      return centre;
    });
  });
}

function pileOf(members: readonly LabelWish[], top: number, bottom: number): Pile {
  let [height, wished] = [-GAP_PIXELS, 0];
  for (const member of members) {
    // Where the pile would begin if this member had its wish.
    wished += member.y - member.height / 2 - (height + GAP_PIXELS);
    height += member.height + GAP_PIXELS;
  }
  return { members, height, top: Math.max(top, Math.min(bottom - height, wished / members.length)) };
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
  const { obstacles, shading = [] } = wish;
  return free([...taken, ...obstacles, ...shading]) ?? free([...taken, ...obstacles]) ?? free(taken) ?? start;
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
