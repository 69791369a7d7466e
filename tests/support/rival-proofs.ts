import { type CalendarDate, calendarDate, plusDays, plusMonths } from "@/lib/warranty/calendar";
import { type PackToTry, packsToTry } from "@/seed/packs-to-try";
import { demoStory, noticedOn } from "@/tests/support/demo-story";

/** Months the demo maker promises (seed/warranty-policies.ts). */
const promisedMonths = 24;
/** Days after the first receipt on which the second one says the pack was sold: beyond every gap the demo maker lets pass. */
const laterByDays = 60;

interface RivalProofs {
  readonly pack: PackToTry;
  /** By this day the fault came when the guarantee was over. */
  readonly firstOn: CalendarDate;
  /** By this day it came while the guarantee ran: only so do two proofs conflict. */
  readonly laterOn: CalendarDate;
}

/** A pack of a dealer that nobody returned, for which two receipts give two answers about cover. */
export function packWithRivalProofs(dealerCode: string): RivalProofs {
  for (const pack of packsToTry(demoStory, dealerCode)) {
    const firstOn = calendarDate(pack.soldOn);
    const endsOn = plusMonths(firstOn, promisedMonths);
    // Over for long enough that neither the grace nor a weekend counts, and not so long that the second receipt would not reach.
    if (plusDays(endsOn, 20) <= noticedOn && noticedOn <= plusDays(endsOn, 45))
      return { pack, firstOn, laterOn: plusDays(firstOn, laterByDays) };
  }
  throw new Error(`the scenario holds no pack of ${dealerCode} whose guarantee ended some weeks ago`);
}
