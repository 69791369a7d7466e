import Link from "next/link";
import { issuePacksHref } from "@/app/_affected/affected-address";
import { CalendarDay } from "@/app/_components/calendar-day";
import { type FormQuestion, QuestionForm } from "@/app/_components/question-form";
import { Stamp } from "@/app/_components/status-line";
import { ProposalPeople } from "@/app/_two-people/standing";
import type { IssueView } from "@/lib/data/safety/list-issues";
import { packsInWords } from "@/lib/reliability/plain-share";
import { proposeClosingAction } from "./actions";
import { IssueWords } from "./issue-words";

const stateStamps = {
  open: { words: "Open", tone: "warn" },
  "not-yet": { words: "Not yet begun", tone: "plain" },
  closed: { words: "Closed", tone: "plain" },
} as const;

const closingQuestions: readonly FormQuestion[] = [
  { name: "validFrom", label: "First day without it", hint: "Today or later, on the calendar of UTC.", kind: "date" },
  { name: "why", label: "Why", hint: "The approver has only this.", kind: "long" },
];

/** One known issue: what it says, which packs it names, by whom it was opened and closed, and how it ends. */
export function IssueCard({ issue }: { issue: IssueView }) {
  const { id, title, state, packsInWords: which, packs, openedOn, closedOn, past, isEndProposed, named } = issue;
  const { words, tone } = stateStamps[state];
  return (
    <article className="card space-y-3 p-4" aria-labelledby={`issue-${id}`}>
      <h3 id={`issue-${id}`}>{title}</h3>
      <Stamp tone={tone}>{words}</Stamp>
      <p>
        <Link href={issuePacksHref(named)}>{which}</Link>: {packsInWords(packs)} today. From{" "}
        <CalendarDay date={openedOn} />
        {closedOn === null ? null : (
          <>
            , no longer from <CalendarDay date={closedOn} />
          </>
        )}
        .
      </p>
      <IssueWords words={issue} />
      {past.length === 0 ? <p className="text-soft">Written at set-up</p> : null}
      {past.map((proposal) => (
        <div key={proposal.id}>
          <ProposalPeople people={proposal} />
          <p>{proposal.why}</p>
        </div>
      ))}
      {closedOn !== null ? null : isEndProposed ? (
        <p className="font-semibold">Somebody proposed that it ends: see above.</p>
      ) : (
        <>
          <p>
            <Link href={issuePacksHref({ ...named, insteadOf: id })}>Propose another in its place</Link>
          </p>
          <details>
            <summary className="min-h-11 cursor-pointer py-2 font-semibold">Propose to close it</summary>
            <QuestionForm
              id={`close-${id}`}
              action={proposeClosingAction}
              questions={closingQuestions}
              hidden={{ issue: id }}
              button="Propose to close it"
            />
          </details>
        </>
      )}
    </article>
  );
}
