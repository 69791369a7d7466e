import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { AnswerForm } from "@/app/_components/answer-form";
import { AskedLong, AskedSelect } from "@/app/_components/asked-fields";
import { EmptyState } from "@/app/_components/empty-state";
import { HouseFrame } from "@/app/_components/house-frame";
import { LocalTime } from "@/app/_components/local-time";
import { Stamp } from "@/app/_components/status-line";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { type AffectedSetView, listAffectedSets } from "@/lib/data/safety/affected-sets";
import { setEventWords } from "@/lib/reliability/affected-set";
import { packsInWords } from "@/lib/reliability/plain-share";
import { stepSetAction } from "../actions";
import { AtStakeList } from "./at-stake-list";

export const metadata: Metadata = { title: "Sets of packs" };

const stepWords = {
  frozen: "Freeze it: it names these packs from now on",
  dropped: "Drop it",
  stopped: "Hold its packs back: none goes out to a customer",
  "let-go": "Let its packs go out again",
} as const;

/** Sets of packs that share a cause: what they name, what happened to them, whether their packs are held back. */
export default async function SetsPage() {
  const actor = await requireActor("propose-affected-set");
  const sets = await listAffectedSets(actor);
  if (sets === null) notFound();
  return (
    <HouseFrame actor={actor} {...(may(actor, "read-reliability") && { current: "/reliability" as const })}>
      <div className="space-y-6">
        <h1>Sets of packs that share a cause</h1>
        <p className="max-w-4xl">
          A set names the packs it named on its day and never changes. Held back, none of them goes out as a replacement
          or on loan, and none that lies here goes back to its customer; packs with dealers and customers are reached by
          a call-back, which the law of each country is asked for. Held back by one, let go by another: the whole set
          here, a single pack on its return&rsquo;s page of remedy and notices.
        </p>
        <p>
          <Link href="/known-issues">Known issues</Link>: what dealers are told of such packs, and whether they are
          covered whatever the date.
        </p>
        {sets.length === 0 ? (
          <EmptyState title="No set is named yet">
            <p>One begins on the page of the packs concerned, which a group of the failure rates leads to.</p>
          </EmptyState>
        ) : (
          <ul className="space-y-6">
            {sets.map((set) => (
              <li key={set.number}>
                <SetCard set={set} />
              </li>
            ))}
          </ul>
        )}
      </div>
    </HouseFrame>
  );
}

function SetCard({ set }: { set: AffectedSetView }) {
  const { number, shares, packs, why, standing, events, steps, atStake } = set;
  return (
    <section className="card space-y-3 p-4" aria-labelledby={`set-${number}`}>
      <h2 id={`set-${number}`}>
        Set {number}: {shares}
      </h2>
      <p>
        <Stamp tone={standing.isStopped ? "danger" : "plain"}>{standingWords(standing)}</Stamp>
      </p>
      <p>
        {packsInWords(packs)}. {why}
      </p>
      <ol className="space-y-1">
        {events.map(({ kind, why: because, byName, at }) => (
          <li key={`${kind} ${at.toISOString()}`}>
            {setEventWords[kind]}. {byName}, <LocalTime at={at} />.{because === why ? "" : ` ${because}`}
          </li>
        ))}
      </ol>
      {atStake === null ? null : <AtStakeList atStake={atStake} />}
      {steps.length === 0 ? null : (
        <AnswerForm action={stepSetAction} submit="Record it" weight="second">
          <input type="hidden" name="number" value={number} />
          <input type="hidden" name="seenEvents" value={events.length} />
          <AskedSelect name="step" id={`step-${number}`} label="What happens to it">
            {steps.map((step) => (
              <option key={step} value={step}>
                {stepWords[step]}
              </option>
            ))}
          </AskedSelect>
          <AskedLong name="why" id={`why-${number}`} label="Why" required minLength={10} maxLength={2000} />
        </AnswerForm>
      )}
    </section>
  );
}

function standingWords({ state, isStopped }: AffectedSetView["standing"]): string {
  if (isStopped) return "Held back";
  return state === "proposed" ? "Proposed" : state === "frozen" ? "Frozen, not held back" : "Dropped";
}
