import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { DownloadLink } from "@/app/_components/download-link";
import { HouseFrame } from "@/app/_components/house-frame";
import { requireActor } from "@/lib/auth/session";
import { readSignals } from "@/lib/data/reliability/signals";
import { FALSE_ALARM_CHANCE, MOST_EXPECTED, WATCH_DAYS } from "@/lib/reliability/early-signals";
import { groupLagsSentence } from "@/lib/reliability/group-lag-sentences";
import { grouped } from "@/lib/reliability/plain-share";
import { confirmationSentence } from "@/lib/reliability/reporting-lag";
import { COUNTING_RULES_VERSION, SIGNAL_RULES_VERSION } from "@/lib/reliability/rule-version";
import { measuredSentence, noSignalSentence, whySentence } from "@/lib/reliability/signal-sentences";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { DelayTable } from "../delay-table";
import { packListHref } from "../packs/pack-list-address";
import { KeptSignalTable } from "./kept-signal-table";
import { LongUndecidedSignals } from "./long-undecided-signals";
import { countedBy, SignalTable } from "./signal-table";

export const metadata: Metadata = { title: "Early signals" };

/** Nearest to an alarm first; the rest says nothing. Engineering default, no authority. */
const MOST_SHOWN = 25;

/** Groups that should be looked at now, before the curves can show it; each opens to its packs and says why. */
export default async function SignalsPage() {
  const actor = await requireActor("read-reliability");
  const dataDate = civilDateAt(new Date(), "UTC");
  const page = await readSignals(actor, dataDate);
  if (page === null) notFound();
  const { states, watchedGroups, sharedOver, unwatchable } = page.signals;
  const alarms = states.filter(({ alarm }) => alarm);
  return (
    <HouseFrame actor={actor} current="/reliability">
      <div className="space-y-6">
        <p>
          <Link
            href="/reliability"
            className="inline-flex min-h-11 items-center text-accent underline underline-offset-4"
          >
            Failure rates
          </Link>
        </p>
        <div className="flex flex-wrap items-baseline justify-between gap-x-8 gap-y-2">
          <h1>Early signals</h1>
          <p className="text-soft">
            All that was told up to <CalendarDay date={dataDate} />, rules {COUNTING_RULES_VERSION} and{" "}
            {SIGNAL_RULES_VERSION}
          </p>
        </div>
        <section aria-labelledby="alarms" className="border-2 border-accent bg-accent-paper p-4">
          <h2 id="alarms" className="caption-print">
            Look at these now
          </h2>
          {alarms.length === 0 ? (
            <p className="mt-1 max-w-4xl text-xl font-semibold leading-snug">{noSignalSentence(watchedGroups)}</p>
          ) : (
            <ul className="mt-1 max-w-4xl space-y-3">
              {alarms.map((state) => (
                <li key={`${state.by} ${state.group} ${state.stratum} ${state.fault ?? ""}`}>
                  <p className="text-lg font-semibold">{whySentence(state)}</p>
                  <Link
                    href={packListHref(state.by, state.group, "failures", countedBy(state))}
                    prefetch={false}
                    className="inline-flex min-h-11 items-center text-accent underline underline-offset-4"
                  >
                    The packs that failed
                  </Link>
                </li>
              ))}
            </ul>
          )}
        </section>
        <p className="max-w-4xl">
          No signal is not an all-clear. Because one may look every day at so many groups, a signal needs much more than
          the comparison of failure rates does: a group that fails twice as often may be named there long before it
          signals here. The table says from how many failures a group would signal today, and how many returns are still
          undecided: were all of them failures, so many would be added to its count. Beside the failures to be expected
          stands from how many of its likes they are told, and how many times as often the group fails, with exact 95 %
          limits for this day alone. Of a signal is also asked whether it would be one for every delay that the failures
          confirmed so far leave open; where not, that stands beside it.
        </p>
        <p className="max-w-4xl text-soft">
          {confirmationSentence(page.lag)} {groupLagsSentence(page.dealerDelays)}
        </p>
        <DelayTable delays={page.dealerDelays} />
        <SignalTable states={states.slice(0, MOST_SHOWN)} />
        {states.length === 0 ? null : (
          <p>
            <DownloadLink href="/reliability/signals/export">
              {`All ${grouped(states.length)} groups as a table file (CSV)`}
            </DownloadLink>
          </p>
        )}
        <LongUndecidedSignals all={page.ifFailures} waitedDays={page.waitedDays} />
        <KeptSignalTable kept={page.kept} />
        <details>
          <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
            How groups are watched, and how often a signal is false
          </summary>
          <p className="max-w-4xl">
            {watchedGroups} watches run every day: revisions, lots, joining jobs, potting batches, board lots, firmware
            as built and dealers, each against the others of its model, failures in the first {WATCH_DAYS} days in use,
            all faults together; revisions also for each fault by itself. The chance of a false signal,{" "}
            {FALSE_ALARM_CHANCE * 100} in 100 for all of them, is shared over {sharedOver}: a number fixed beforehand,
            not that of today. What is to be expected is estimated from the likes, and the level allows for that.{" "}
            {measuredSentence()} {grouped(unwatchable)} more groups cannot be watched yet: their likes have failed too
            seldom to say what is to be expected. Groups that share packs signal together. For a group that will have
            more than {MOST_EXPECTED} failures to be expected the level for a signal is that of {MOST_EXPECTED}, so its
            own chance of a false signal is a little higher than its share.
          </p>
        </details>
      </div>
    </HouseFrame>
  );
}
