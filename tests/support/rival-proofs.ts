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

/** A pack of a dealer that nobody returned, for which two receipts give two answers about cover: the last built, because other tests take the first. */
export function packWithRivalProofs(dealerCode: string): RivalProofs {
  const pack = packsToTry(demoStory, dealerCode).findLast(({ soldOn }) => {
    const endsOn = plusMonths(calendarDate(soldOn), promisedMonths);
    // Over for long enough that neither the grace nor a weekend counts, and not so long that the second receipt would not reach.
    return plusDays(endsOn, 20) <= noticedOn && noticedOn <= plusDays(endsOn, 45);
  });
  if (pack === undefined)
    throw new Error(`the scenario holds no pack of ${dealerCode} whose guarantee ended some weeks ago`);
  const firstOn = calendarDate(pack.soldOn);
  return { pack, firstOn, laterOn: plusDays(firstOn, laterByDays) };
}
