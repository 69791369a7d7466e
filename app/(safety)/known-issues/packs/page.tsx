import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { AffectedTable, CountryTable } from "@/app/_affected/affected-tables";
import { HouseFrame } from "@/app/_components/house-frame";
import { QuestionForm } from "@/app/_components/question-form";
import { requireActor } from "@/lib/auth/session";
import { findIssuePacks } from "@/lib/data/safety/issue-packs";
import { listKnownIssues } from "@/lib/data/safety/list-issues";
import { issuePacksSchema } from "@/lib/packs/issue-proposal";
import { affectedSentence } from "@/lib/reliability/affected-packs";
import { grouped } from "@/lib/reliability/plain-share";
import { proposeIssueAction } from "../actions";
import { issueQuestions } from "../issue-questions";
import { PacksForm } from "./packs-form";

export const metadata: Metadata = { title: "Packs of a known issue" };

/** So many stand on the page. Engineering default, no authority. */
const MOST_SHOWN = 200;

interface PacksPageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** Which packs a known issue would name, how many they are and where; below them the form that proposes it. */
export default async function PacksPage({ searchParams }: PacksPageProps) {
  const actor = await requireActor("propose-known-issue");
  const asked = await searchParams;
  const read = issuePacksSchema.safeParse(asked);
  if (!read.success) notFound();
  const named = read.data;
  const isAsked = Object.values(asked).some((value) => value !== undefined);
  const found = isAsked ? await findIssuePacks(actor, named) : null;
  const before = (await listKnownIssues(actor))?.issues.find(({ id }) => id === asked.insteadOf) ?? null;
  const packs = found?.kind === "packs" ? found.packs : [];
  return (
    <HouseFrame actor={actor} current="/incidents">
      <div className="space-y-6">
        <p>
          <Link href="/known-issues">Known issues</Link>
        </p>
        <h1>{found?.kind === "packs" ? found.words : "Which packs is it about?"}</h1>
        {before === null ? null : <p>In the place of “{before.title}”.</p>}
        <PacksForm named={named} insteadOf={before?.id ?? ""} problem={found?.kind === "refused" ? found : null} />
        {packs.length === 0 ? null : (
          <>
            <p className="max-w-4xl text-xl font-semibold leading-snug">{affectedSentence(packs, 0)}</p>
            <CountryTable packs={packs} />
            <section className="space-y-4" aria-labelledby="propose-issue">
              <h2 id="propose-issue">Propose an issue for these packs</h2>
              <QuestionForm
                id="issue"
                action={proposeIssueAction}
                questions={issueQuestions(before)}
                hidden={{ ...named, insteadOf: before?.id ?? "" }}
                button="Propose"
              />
            </section>
            {packs.length > MOST_SHOWN ? (
              <p className="text-soft">
                The first {grouped(MOST_SHOWN)} of {grouped(packs.length)} are shown.
              </p>
            ) : null}
            <AffectedTable packs={packs.slice(0, MOST_SHOWN)} />
          </>
        )}
      </div>
    </HouseFrame>
  );
}
