import Link from "next/link";
import { affectedHref } from "@/app/_affected/affected-address";
import type { WatchPage } from "@/lib/data/reliability/watch";
import { ifFailuresSentence } from "@/lib/reliability/if-failures-sentences";
import { nothingSentence } from "@/lib/reliability/not-excluded";
import type { PackList } from "@/lib/reliability/pack-lists";
import { signalsBesideSentence, sinceSentence } from "@/lib/reliability/since-sentences";
import { watched } from "@/lib/reliability/what-got-worse";
import {
  apartSentence,
  decideSentence,
  explainedSentence,
  familiesSentence,
  furtherSentence,
  hangingSentence,
  packsSentence,
  shareSentence,
  standOutSentence,
  sureSentence,
  whatSentence,
} from "@/lib/reliability/worse-sentences";
import { GroupLink } from "./group-link";
import { packListHref } from "./packs/pack-list-address";

/** The answers first: what got worse, how sure, how many packs, what to decide. */
export function WorseCard({ page }: { page: WatchPage }) {
  const { leading, explained, further, hanging, tested } = page;
  return (
    <section aria-labelledby="answer-title" className="border-2 border-accent bg-accent-paper p-4">
      <h2 id="answer-title" className="caption-print">
        What got worse
      </h2>
      {leading.length === 0 ? (
        <p className="mt-1 max-w-4xl text-xl font-semibold leading-snug">
          {nothingSentence(tested - hanging.length, page.notExcluded)}
        </p>
      ) : (
        <>
          {leading.length < 2 ? null : <p className="mt-1 max-w-4xl">{standOutSentence(leading)}</p>}
          <ol className="mt-2 grid gap-x-8 gap-y-6 xl:grid-cols-2">
            {leading.map((worse) => (
              <li key={`${worse.by} ${worse.effect.group}`} className="max-w-4xl space-y-2">
                <p className="text-xl font-semibold leading-snug">{whatSentence(worse, worse.current)}</p>
                <p>
                  {sureSentence(worse)} {apartSentence(worse)}
                </p>
                <p>{shareSentence(worse)}</p>
                <p>{sinceSentence(worse.built, signalOf(page, worse), page.signalsSince)}</p>
                <p>{packsSentence(worse)}</p>
                <Waiting worse={worse} page={page} />
                <p className="font-semibold">{decideSentence(worse, worse.current)}</p>
                <Ways worse={worse} />
              </li>
            ))}
          </ol>
        </>
      )}
      {further.length === 0 ? null : <p className="mt-4 max-w-4xl font-semibold">{furtherSentence(further)}</p>}
      {explained.length === 0 ? null : (
        <p className="mt-4 max-w-4xl text-soft">
          {explainedSentence(explained, leading.map(({ effect }) => effect.group).join(", "))}
        </p>
      )}
      <SignalsBeside page={page} />
      {hanging.length === 0 ? null : <p className="mt-4 max-w-4xl">{hangingSentence(hanging)}</p>}
      {tested === 0 ? null : <p className="mt-4 max-w-4xl text-soft">{familiesSentence(watched.length)}</p>}
    </section>
  );
}

function signalOf({ signalled }: WatchPage, { by, effect }: WatchPage["leading"][number]) {
  return signalled.find((one) => one.by === by && one.group === effect.group) ?? null;
}

/** Early signals of what does not stand out above, so that nobody reads "nothing" beside a signal. */
function SignalsBeside({ page: { signalled, leading } }: { page: WatchPage }) {
  const said = signalsBesideSentence(signalled, leading);
  return said === "" ? null : (
    <p className="mt-4 max-w-4xl">
      {said}{" "}
      <Link
        href="/reliability/signals"
        prefetch={false}
        className="font-semibold text-accent underline underline-offset-4"
      >
        Which of them stand today
      </Link>
    </p>
  );
}

/** What the returns that have been undecided for too long could change of it. */
function Waiting({ worse: { by, effect }, page }: { worse: WatchPage["leading"][number]; page: WatchPage }) {
  const waiting = page.ifFailures.find((one) => one.by === by && one.group === effect.group);
  return waiting === undefined ? null : <p>{ifFailuresSentence(waiting, page.waitedDays)}</p>;
}

const linkClass = "inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4";

function Ways({ worse: { by, effect, packsNotSold } }: { worse: WatchPage["leading"][number] }) {
  const lists: readonly (readonly [PackList, string])[] = [
    ["failures", "The packs that failed"],
    ["running", "The packs in use"],
    ...(packsNotSold > 0 ? ([["not-sold", "The packs not known to be sold"]] as const) : []),
  ];
  return (
    <p className="flex flex-wrap gap-x-6">
      <GroupLink by={by} group={effect.group}>
        {by === "revision" ? `What changed in ${effect.group}` : `All about ${effect.group}`}
      </GroupLink>
      {by === "revision" ? (
        <Link href="/reliability/forecast" prefetch={false} className={linkClass}>
          What its failures to come will cost
        </Link>
      ) : null}
      <Link href={affectedHref({ by, group: effect.group })} prefetch={false} className={linkClass}>
        Packs concerned, and where they are
      </Link>
      {lists.map(([list, words]) => (
        <Link key={list} href={packListHref(by, effect.group, list)} prefetch={false} className={linkClass}>
          {words}
        </Link>
      ))}
    </p>
  );
}
