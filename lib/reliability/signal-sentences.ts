import { sayFault } from "@/lib/diagnosis/fault-words";
import { clopperPearsonLimits } from "@/lib/stats/binomial-limits";

/**
 * Measured in made-up fleets of twelve groups of 250 packs, looked at every other week until their watch ended, lags and what is to be
 * expected estimated on each day, the chance shared over the twelve: `npm run -s bench -- signal-rates 60 1` and `60 61` (signals-3).
 */
const measured = { fleets: 120, withFalseSignal: 2, doubledFound: 57 };

export function faultWords(fault: string | null): string {
  return fault === null ? "all together" : sayFault(fault);
}

/** What was measured of false signals and of finding a doubled rate, with the exact limits that so many fleets allow. */
export function measuredSentence(): string {
  const { fleets, withFalseSignal, doubledFound } = measured;
  const { lower, upper } = clopperPearsonLimits(withFalseSignal, fleets);
  const percent = (share: number) => (share * 100).toFixed(1);
  return (
    `Measured in ${fleets} made-up fleets of twelve groups alike, which share the chance: ${withFalseSignal} ever gave a false signal ` +
    `(${percent(withFalseSignal / fleets)} in 100, 95 % limits ${percent(lower)} to ${percent(upper)}). Of ${fleets} fleets in which one group of 250 packs failed twice as often, ` +
    `15 failures being expected of it in a year, ${doubledFound} signalled, typically nine to eleven months after its first sale.`
  );
}
