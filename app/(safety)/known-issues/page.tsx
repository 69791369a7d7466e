import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { EmptyState } from "@/app/_components/empty-state";
import { HouseFrame } from "@/app/_components/house-frame";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { findIssuePacks } from "@/lib/data/safety/issue-packs";
import { listKnownIssues } from "@/lib/data/safety/list-issues";
import { IssueCard } from "./issue-card";
import { ProposalCard } from "./proposal-card";

export const metadata: Metadata = { title: "Known issues" };

/** What is known to be wrong with packs: what waits for a second person, what is open, and what was. */
export default async function KnownIssuesPage() {
  const actor = await requireActor("propose-known-issue");
  const known = await listKnownIssues(actor);
  if (known === null) notFound();
  const { proposals, issues } = known;
  const found = new Map<string, Awaited<ReturnType<typeof findIssuePacks>>>();
  for (const { id, words } of proposals) found.set(id, await findIssuePacks(actor, words.named));
  return (
    <HouseFrame actor={actor} current="/incidents">
      <div className="max-w-4xl space-y-8">
        <div className="space-y-2">
          <h1>Known issues, and what they cover or stop</h1>
          <p>
            An open issue tells dealers and the bench what is to be done with packs like these. It may cover them
            whatever the date of their guarantee, and it may keep them from going out. One person proposes it, a manager
            or the safety officer approves it; it is never edited, another takes its place. Where packs are covered
            whatever the date, one of the two is a manager.
          </p>
          <p>
            When every hour counts, <Link href="/reliability/affected/sets">hold the packs back as a set</Link>: one
            person does that at once. An issue here is no call-back: whom the law of each country asks to be told is for
            counsel and the safety officer to say.
          </p>
          <p>
            <Link
              href="/known-issues/packs"
              className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
            >
              Propose an issue
            </Link>
          </p>
        </div>
        {proposals.length === 0 ? null : (
          <section className="space-y-4">
            <h2>Waiting for a second person</h2>
            {proposals.map((proposal) => (
              <ProposalCard
                key={proposal.id}
                proposal={proposal}
                found={found.get(proposal.id) ?? null}
                maySettle={may(actor, "approve-known-issue")}
              />
            ))}
          </section>
        )}
        <section className="space-y-4">
          <h2>On record</h2>
          {issues.length === 0 ? (
            <EmptyState title="Nothing is known to be wrong with any pack">
              <p>An issue is proposed for a revision, a lot, both together, or a set of packs.</p>
            </EmptyState>
          ) : (
            issues.map((issue) => <IssueCard key={issue.id} issue={issue} />)
          )}
        </section>
      </div>
    </HouseFrame>
  );
}
