import type { ClearedExhibits } from "../../disclosure/cleared.ts";
import type { Block } from "../../report/block.ts";

type Items = (Block & { readonly kind: "facts" })["items"];

/** Which reports of the readers were thought of; where they see everything, none need be. */
export function heldItem({ held, threshold }: ClearedExhibits): Items {
  if (threshold === 0) return [];
  const named = held.map(({ id, audience, hash }) => `${id} (${audience}), results.json SHA-256 ${hash}`);
  return [
    {
      term: "Reports that the readers hold",
      text:
        named.length === 0
          ? "none was named, so none was taken into account"
          : `taken into account, the oldest first: ${named.join("; ")}. Others were not.`,
    },
  ];
}

/** The options that name them again, without a place on any machine. */
export function heldOptions({ held }: ClearedExhibits): string {
  return held.map(({ id }) => ` --readers-hold (the folder of ${id} below)`).join("");
}

/** What the readers may do with two reports, and what was done about it. */
export function heldSentence({ held, threshold }: ClearedExhibits): string {
  if (held.length === 0) {
    return "Who sets this report beside another one, for other readers, with another plan or with a later data cut, can subtract one from the other: none was named when this one was made. Let one version go out, and withdraw it before the next; or name what the readers hold when the next is made.";
  }
  const named = held.map(({ id, hash }) => `“${id}” (${hash.slice(0, 12)})`).join(", ");
  return `Readers were taken to hold ${named}: numbers that would differ from those by 1 to below ${threshold}, themselves or by subtraction, are given as they stand there, marked †, or hidden. Who sets this report beside yet another one, for other readers, with another plan or with a later data cut, can subtract one from the other.`;
}
