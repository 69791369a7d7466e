import Link from "next/link";
import { issuePacksHref } from "@/app/_affected/affected-address";
import { CountryTable } from "@/app/_affected/affected-tables";
import { CalendarDay } from "@/app/_components/calendar-day";
import { SettleButtons } from "@/app/_two-people/settle-buttons";
import { ProposalPeople, ProposalStamp } from "@/app/_two-people/standing";
import type { IssuePacksAnswer } from "@/lib/data/safety/issue-packs";
import type { ProposalView } from "@/lib/data/safety/list-issues";
import { affectedSentence } from "@/lib/reliability/affected-packs";
import { packsInWords } from "@/lib/reliability/plain-share";
import { settleIssueAction } from "./actions";
import { IssueWords } from "./issue-words";

interface ProposalCardProps {
  readonly proposal: ProposalView;
  /** The packs it names today. */
  readonly found: IssuePacksAnswer | null;
  readonly maySettle: boolean;
}

/** What waits for a second person: what it says, how many packs it is about and where they are today. */
export function ProposalCard({ proposal, found, maySettle }: ProposalCardProps) {
  const { id, kind, words, validFrom, packs, insteadOf, why, isOwnProposal } = proposal;
  return (
    <article className="card space-y-3 p-4" aria-labelledby={`proposal-${id}`}>
      <h3 id={`proposal-${id}`}>
        {kind === "open" ? "To open" : "To close"}: {words.title}
      </h3>
      <ProposalStamp state={proposal.state} />
      <p>
        {words.packsInWords}, {kind === "open" ? "from" : "no longer from"} <CalendarDay date={validFrom} /> on.
        {insteadOf === null ? "" : ` It takes the place of “${insteadOf}”, which ends that day.`}
      </p>
      <p>
        <span className="caption-print block">Why</span>
        {why}
      </p>
      <IssueWords words={words} />
      {found?.kind === "packs" ? (
        <>
          <p className="font-semibold">
            {affectedSentence(found.packs, 0)}
            {found.packs.length === packs ? "" : ` When it was proposed: ${packsInWords(packs)}.`}
          </p>
          <CountryTable packs={found.packs} />
          <p>
            <Link href={issuePacksHref(words.named)}>Pack by pack</Link>
          </p>
        </>
      ) : null}
      <ProposalPeople people={proposal} />
      {maySettle ? (
        <SettleButtons
          proposal={id}
          spoken={`${kind === "open" ? "opening" : "closing"} “${words.title}”`}
          isOwnProposal={isOwnProposal}
          another="a manager or the safety officer"
          action={settleIssueAction}
        />
      ) : (
        <p>A manager or the safety officer settles it.</p>
      )}
    </article>
  );
}
