import type { Block } from "../../report/block.ts";
import type { Figures } from "../making/section.ts";
import { RISK_PAIR } from "./risk-pair.ts";

/** Crude and net risk of the same groups on the same axes: what differs is the question. */
export function besideEachOther(figures: Figures): Block[] {
  const figure = figures.get(RISK_PAIR.id);
  if (figure === undefined) return [];
  return [
    {
      kind: "picture",
      title: RISK_PAIR.title,
      question: "How far apart are the two answers?",
      figure,
      numbers: "The numbers are those of the two figures above, and stand in their tables.",
    },
  ];
}
