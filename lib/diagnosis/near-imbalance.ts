import type { Evidence } from "@/lib/diagnosis/evidence";
import { comparedOffsets } from "@/lib/diagnosis/rules/imbalance";
import { counted, inDigits } from "@/lib/diagnosis/wording";
import { poorlyFitted } from "@/lib/readings/measure/group-state-fit";

/** Standard errors by which an offset may be larger than it is read: about 95 in 100 where errors are normal. */
const errorsAllowed = 2;

/**
 * Why a pack is not called sound although no offset of charge reaches the limit: a group stands clearly apart from the others, and its
 * own error does not exclude that it is as far off as an imbalance. On a flat curve that error is great. One sentence, or none.
 */
export function nearImbalance(evidence: Evidence): string[] {
  const { states, settings } = evidence;
  if (states === null) return [];
  const limits = settings.verdict;
  const poor = poorlyFitted(states);
  const near = comparedOffsets(evidence, states)
    .filter(
      ({ group, excess, z, standardError }) =>
        !poor.has(group) &&
        Math.abs(z) >= limits.imbalanceLeastZ &&
        Math.abs(excess) < limits.imbalancePercent &&
        Math.abs(excess) + errorsAllowed * standardError >= limits.imbalancePercent,
    )
    .toSorted((a, b) => Math.abs(b.excess) - Math.abs(a.excess));
  const [worst] = near;
  if (worst === undefined) return [];
  const others = near.length === 1 ? "" : `, and ${counted(near.length - 1, "other group")} much the same`;
  return [
    `Group ${worst.group} stands ${inDigits(Math.abs(worst.excess), 1)} % of charge ${worst.excess < 0 ? "below" : "above"} the group in the middle, give or take ${inDigits(errorsAllowed * worst.standardError, 1)}${others}: ${inDigits(limits.imbalancePercent, 0)} % would be an imbalance, and this does not exclude it. Charge it to the end and let it rest with the log running.`,
  ];
}
