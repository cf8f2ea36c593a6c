import { type Answer, computed, notComputed } from "../../base/answer.ts";

/** What would change practice: a difference per 1000 at the study's last year, or a ratio of hazards. */
export type Matters = { readonly per1000: number } | { readonly ratio: number };

/**
 * The ratio of hazards that a smallest difference per 1000 amounts to, given the risk of everybody compared.
 *
 * With risk r over all, difference d and exposed share p the two risks are r + (1 − p)d and r − pd, or the same with the
 * groups exchanged. Hazards that keep one ratio at all times have it between the logarithms of what is left without the
 * event, log(1 − risk); a ratio of risks is nearer to 1. The smaller of the two ratios is taken. No answer where the whole
 * risk does not hold the difference.
 */
export function ratioThatMatters(
  matters: Matters,
  risk: number,
  exposedShare: number,
): Answer<{ readonly ratio: number }> {
  if ("ratio" in matters) return computed({ ratio: Math.max(matters.ratio, 1 / matters.ratio) });
  const difference = matters.per1000 / 1000;
  const ratios = [exposedShare, 1 - exposedShare].flatMap((share) => {
    const [higher, lower] = [risk + (1 - share) * difference, risk - share * difference];
    return lower > 0 && higher < 1 ? [Math.log1p(-higher) / Math.log1p(-lower)] : [];
  });
  return ratios.length === 0
    ? notComputed("risk-too-low", "the whole risk is smaller than the difference that matters")
    : computed({ ratio: Math.min(...ratios) });
}
