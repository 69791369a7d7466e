import type { ReactNode } from "react";
import { FEWEST_OF_REVISION } from "@/lib/reliability/decided-alike";
import { FEWEST_FOR_LAW } from "@/lib/reliability/failure-law";
import { grouped } from "@/lib/reliability/plain-share";

interface ForecastGroundsProps {
  readonly unsold: number;
  readonly lagWords: string;
  /** What is known of packs and not in it, as items of the list. */
  readonly children: ReactNode;
}

/** What the forecast rests on and what is not in it, in words. */
export function ForecastGrounds({ unsold, lagWords, children }: ForecastGroundsProps) {
  return (
    <section aria-labelledby="grounds" className="max-w-4xl space-y-3">
      <h2 id="grounds">What is in these numbers, and what is not</h2>
      <p>
        For each pack in use under cover that has not failed yet: the chance that it fails before the months ahead, or
        its cover, are over, given that it runs today. The chances follow a Weibull distribution fitted to the failures
        of its own revision, the last weeks cut off in which not everything is confirmed yet, with all shapes and scales
        that these failures leave open, each by its likelihood, so that six failures bound what is to come about as
        closely as a count of six does; where only a part of the packs seems able to fail, the distribution of that
        part. A revision with fewer than {FEWEST_FOR_LAW} failures is lent the shape that the others of its model have
        in common, each of them at its own rate, with the doubt about it. How often it fails rests on its own few, and
        half a failure at the rate of the others, so that none so far is not taken for none to come. That draws what is
        expected towards the others: of a revision that fails more often than they it is too low. The upper limit is
        taken without that half, from its own few alone. Others may still fail at ages at which none, or hardly any, has
        so far: the upper limit allows for as many as the time watched there without one does not exclude. No pack is
        followed beyond the oldest age at which what happened to packs of its revision is settled: the age of the
        oldest, less those last weeks. Added to that is what has happened in the last weeks and has not reached us.
      </p>
      <p>{lagWords}</p>
      <ul className="list-disc space-y-1 pl-5">
        {children}
        <li>
          Were all undecided returns failures, the law itself would be another: that is told above for those which wait
          for longer than is allowed for.
        </li>
        <li>
          Packs dispatched and not known to be sold: {grouped(unsold)}. Failures of these and of later sales come on
          top.
        </li>
        <li>
          Cost of one failure: what it takes us and what the dealer is paid, as often by each remedy and country as the
          decided failures within cover were: of the revision itself from {FEWEST_OF_REVISION} on, else of all revisions
          of its model that can be opened and repaired alike. The limits of a cost hold the number of failures, the
          spread of single ones and the doubt about their mean. Returns in which no failure is confirmed are in it where
          their cost is known: what else comes back beside a failure stands with the cost of each model.
        </li>
        <li>
          The limits suppose that packs go on failing as those of their revision did. A change of use, of prices or of
          exchange rates is not in them, nor that reports may come in batches: what is on its way spreads more than one
          by one.
        </li>
      </ul>
    </section>
  );
}
