import { excessGrounds, excessSentence } from "@/lib/reliability/excess-failures";
import { failsMore, type StandsOut } from "@/lib/reliability/what-stands-out";
import { RevisionLink } from "./revision-link";

/** The answer first, in one sentence, with how it was looked for; then whatever else stands out. */
export function AnswerCard({ answer }: { answer: StandsOut }) {
  const { others, codes } = beyondTheHeadline(answer);
  return (
    <section aria-labelledby="answer-title" className="border-2 border-accent bg-accent-paper p-4">
      <h2 id="answer-title" className="caption-print">
        The answer today
      </h2>
      <p className="mt-1 max-w-4xl text-xl font-semibold leading-snug">{answer.headline}</p>
      {answer.kind === "points-to" ? <p className="mt-2 max-w-4xl">{answer.atOneAge}</p> : null}
      {others.length === 0 ? null : (
        <ul className="mt-3 max-w-4xl list-disc space-y-1 pl-5">
          {others.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
      <p className="mt-3 max-w-4xl text-soft">
        {answer.howLooked} A difference at one age is named only where the 95 % limits of the two leave a gap.{" "}
        {"excess" in answer ? excessGrounds(answer.excess) : ""}
      </p>
      {codes.length === 0 ? null : (
        <p className="mt-2 flex flex-wrap gap-x-6">
          {codes.map((code) => (
            <RevisionLink key={code} code={code}>
              What changed in {code}, and which packs failed
            </RevisionLink>
          ))}
        </p>
      )}
    </section>
  );
}

function beyondTheHeadline(answer: StandsOut): { others: readonly string[]; codes: readonly string[] } {
  switch (answer.kind) {
    case "cannot-tell":
    case "limits-overlap":
      return { others: [], codes: [] };
    case "points-to":
      return {
        others: answer.excess.slice(1).map(excessSentence),
        codes: answer.excess.map(({ group }) => group),
      };
    case "stands-out":
      return {
        others: [...answer.worse.slice(1).map(failsMore), ...answer.excess.map(excessSentence)],
        codes: [...answer.worse.map(({ higher }) => higher.group), ...answer.excess.map((one) => one.group)],
      };
    default: {
      const never: never = answer;
      return never;
    }
  }
}
