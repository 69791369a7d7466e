import { median, scaledMad } from "@/lib/readings/measure/median";

/** What is asked of a fitted group here. */
interface Fitted {
  readonly offsetPercent: { readonly estimate: number };
  readonly shortfall: { readonly estimate: number };
  readonly misfit: number;
}

/** What a group may differ by, before the log is read, whose charge is like the others' and whose reading is not. Engineering defaults. */
export const readingPriors = { offsetPercent: 1, shortfall: 0.03, shiftV: 0.3, driftPercentPerDay: 0.1 };
/**
 * Share of what a charge leaves that a reading may leave at most. Engineering default: of simulated packs true offsets
 * leave 1 to 80 times more as a reading, shifted readings 6 to 18 times more as a charge.
 */
const readingWinsBelow = 0.6;
/**
 * Multiple of what is left of the usual group that a reading which is off by the same volts may leave: it follows nothing, so nothing of it is
 * left. Where more is left, neither describes the group, and it has to win by far. Engineering defaults: of simulated packs shifted readings
 * left up to 2.4 times the usual, or less than a third of a charge's; true offsets on a straight curve 2.7 to 4.9 times, and 0.41 to 0.54.
 */
const leavesUsual = 2.5;
const winsByFarBelow = 0.35;
/**
 * Prior widths by which a group may differ in charge and capacity where its reading alone is to be off. A shift that needs another
 * charge and another capacity beside it, to lean as the curve does, is an offset of charge. Engineering default.
 */
const readingWidths = 3;
/**
 * Scatters of capacity between the groups by which the group may differ besides, and the scatter never taken smaller: a reading that is off
 * has nothing to do with what its group holds. On a straight part of a curve a capacity that no cell has makes up for the bends that a true
 * offset of charge would show. Engineering defaults.
 */
const capacityScatters = 4;
const leastCapacityScatter = 0.012;

/** Whether a shifted reading describes a group far better than an offset of its charge, and does so by the shift alone. */
export function isReadingAlone(
  asReading: Fitted,
  asCharge: Fitted,
  shortfalls: readonly number[],
  usualMisfit: number,
): boolean {
  const middle = median(shortfalls) ?? 0;
  const scatter = Math.max(leastCapacityScatter, scaledMad(shortfalls) ?? 0);
  const apart = Math.abs(asReading.shortfall.estimate - middle);
  return (
    asReading.misfit < readingWinsBelow * asCharge.misfit &&
    (asReading.misfit <= leavesUsual * usualMisfit || asReading.misfit < winsByFarBelow * asCharge.misfit) &&
    Math.abs(asReading.offsetPercent.estimate) <= readingWidths * readingPriors.offsetPercent &&
    apart <= Math.min(capacityScatters * scatter, readingWidths * readingPriors.shortfall)
  );
}
