import { failsMore, type StandsOut } from "@/lib/reliability/what-stands-out";
import { RevisionLink } from "./revision-link";

/** The answer first, in one sentence, with how it was looked for; then whatever else leaves a gap. */
export function AnswerCard({ answer }: { answer: StandsOut }) {
  const others = answer.kind === "stands-out" ? answer.worse.slice(1) : [];
  return (
    <section aria-labelledby="answer-title" className="border-2 border-accent bg-accent-paper p-4">
      <h2 id="answer-title" className="caption-print">
        The answer today
      </h2>
      <p className="mt-1 max-w-4xl text-xl font-semibold leading-snug">{answer.headline}</p>
      {others.length === 0 ? null : (
        <ul className="mt-3 max-w-4xl list-disc space-y-1 pl-5">
          {others.map((comparison) => (
            <li key={comparison.higher.revisionCode}>{failsMore(comparison)}</li>
          ))}
        </ul>
      )}
      <p className="mt-3 text-soft">
        {answer.howLooked} A difference is named only where the two ranges of the 95 % limits leave a gap.
      </p>
      {answer.kind === "stands-out" ? (
        <p className="mt-3 flex flex-wrap gap-x-6">
          {answer.worse.map(({ higher: { revisionCode } }) => (
            <RevisionLink key={revisionCode} code={revisionCode}>
              What changed in {revisionCode}, and which packs failed
            </RevisionLink>
          ))}
        </p>
      ) : null}
    </section>
  );
}
