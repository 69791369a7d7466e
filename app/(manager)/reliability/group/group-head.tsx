import Link from "next/link";
import { affectedHref } from "@/app/_affected/affected-address";
import { CalendarDay } from "@/app/_components/calendar-day";
import type { GroupPage } from "@/lib/data/reliability/group-page";
import { compareByWords } from "@/lib/reliability/compare-by";
import { eachByItsDealerSentence, groupLagsSentence } from "@/lib/reliability/group-lag-sentences";
import { ifFailuresSentence } from "@/lib/reliability/if-failures-sentences";
import { COUNTING_RULES_VERSION } from "@/lib/reliability/rule-version";
import { togetherSentence } from "@/lib/reliability/several-models";
import { effectSentence } from "@/lib/reliability/worse-sentences";
import { NoCoverRules } from "../no-cover-rules";

/** Way back, name and answer of a page about one group. */
export function GroupHead({ page }: { readonly page: GroupPage }) {
  const { by, line, modelNames, dataDate, effect, tested, ifFailures, waitedDays, delays } = page;
  const { one, many } = compareByWords[by];
  const oneDelay = eachByItsDealerSentence(by, page.dealerDelays);
  return (
    <>
      <p>
        <Link
          href={`/reliability?by=${by}`}
          className="inline-flex min-h-11 items-center text-accent underline underline-offset-4"
        >
          All {many}
        </Link>
      </p>
      <div className="flex flex-wrap items-baseline justify-between gap-x-8 gap-y-2">
        <h1>
          <span className="caption-print block">
            {modelNames.join(", ")}, {one}
          </span>
          {line.group}
        </h1>
        <p className="text-soft">
          All that was told up to <CalendarDay date={dataDate} />, rules {COUNTING_RULES_VERSION}
        </p>
      </div>
      <p className="max-w-4xl text-xl font-semibold leading-snug">{line.sentence}</p>
      <NoCoverRules hasRules={page.hasCoverRules} />
      <p className="max-w-4xl">{effectSentence(by, effect, tested)}</p>
      {modelNames.length > 1 ? <p className="max-w-4xl">{togetherSentence}</p> : null}
      {delays === null ? null : <p className="max-w-4xl text-soft">{groupLagsSentence(delays)}</p>}
      {oneDelay === "" ? null : <p className="max-w-4xl text-soft">{oneDelay}</p>}
      {ifFailures === null ? null : <p className="max-w-4xl">{ifFailuresSentence(ifFailures, waitedDays)}</p>}
      <p className="flex flex-wrap gap-x-8">
        <Link
          href={`/reliability/months?${new URLSearchParams({ by, group: line.group })}`}
          prefetch={false}
          className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
        >
          Its failures by month of sale
        </Link>
        <Link
          href={affectedHref({ by, group: line.group })}
          prefetch={false}
          className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
        >
          Packs concerned, and where they are
        </Link>
      </p>
    </>
  );
}
