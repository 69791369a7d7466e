import { coverLabels } from "@/app/_components/cover-labels";
import { labelOf } from "@/app/_components/label-of";
import type { ReplayedAnswer, ReplayedReturn } from "@/lib/data/warranty/kept-answers";
import { isCalendarDate } from "@/lib/warranty/calendar";
import type { LegalClock } from "@/lib/warranty/legal-clock";
import { evidenceWords } from "@/lib/warranty/policy-words";
import type { Difference, Replay } from "@/lib/warranty/replay";
import type { LawReplay } from "@/lib/warranty/replay-law";
import { sayDate } from "@/lib/warranty/say-date";

const whatWords: Readonly<Record<Difference["what"], string>> = {
  outcome: "The answer",
  startsOn: "The start",
  endsOn: "The last day",
  graceEndsOn: "The last day of grace",
  settlementStartsOn: "The start between maker and dealer",
  settlementEndsOn: "The last day between maker and dealer",
  legalRow: "The row of law of the seller's duty",
  legalEndsOn: "The seller's last day",
  evidence: "The evidence",
};

/** The answers on one return as they were given, and as they come out today. */
export function ReplayPart({ one }: { one: ReplayedReturn }) {
  return (
    <>
      <OneAnswer title={one.reference} answer={one} todayVersion={one.todayVersion} />
      {one.earlier.map((answer) => (
        <OneAnswer
          key={answer.number}
          title={`${one.reference}, answer ${answer.number}, replaced by a proof of sale`}
          answer={answer}
          todayVersion={one.todayVersion}
        />
      ))}
    </>
  );
}

interface OneAnswerProps {
  readonly title: string;
  readonly answer: ReplayedAnswer;
  readonly todayVersion: string;
}

function OneAnswer({ title, answer: { kept, thatDay, today, law }, todayVersion }: OneAnswerProps) {
  return (
    <section className="space-y-4">
      <h2>
        {title}: {labelOf(coverLabels, kept.outcome)}, by version {kept.policyVersion}
      </h2>
      <div className="grid gap-4 lg:grid-cols-2">
        <Outcome title={`Under version ${kept.policyVersion}, that of its day`} replay={thatDay} />
        <Outcome title={`Under version ${todayVersion}, in force today`} replay={today} />
      </div>
      {law === null ? null : <LawPart law={law} />}
    </section>
  );
}

/** The third clock, which the guarantee neither shortens nor lengthens. */
function LawPart({ law: { thatDay, today, differences } }: { law: LawReplay }) {
  return (
    <article className="card space-y-2 p-4">
      <h3>The seller&rsquo;s legal duty beside it</h3>
      {differences.length === 0 ? (
        <p className="font-semibold text-good">By the rows of law of today it is what it was.</p>
      ) : (
        <ul className="list-disc space-y-1 pl-5 font-semibold">
          {sayDifferences(differences).map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
      <LawWords title="By the rows of the answer's day" clock={thatDay} />
      {differences.length === 0 ? null : <LawWords title="By the rows of today" clock={today} />}
    </article>
  );
}

function LawWords({ title, clock: { sentences, counsel } }: { title: string; clock: LegalClock }) {
  return (
    <div>
      <h4 className="font-semibold">{title}</h4>
      <p>{sentences.join(" ")}</p>
      <p className="text-soft">{counsel}</p>
    </div>
  );
}

function Outcome({ title, replay }: { title: string; replay: Replay }) {
  if (replay.kind === "inputs-not-kept")
    return (
      <article className="card space-y-2 p-4">
        <h3>{title}</h3>
        <p>What this answer was drawn from was not kept, so it cannot be given again.</p>
      </article>
    );
  const { differences, cover, rulesChanged } = replay;
  return (
    <article className="card space-y-2 p-4">
      <h3>{title}</h3>
      {differences.length === 0 ? (
        <p className="font-semibold text-good">It comes out as it was given.</p>
      ) : (
        <ul className="list-disc space-y-1 pl-5 font-semibold">
          {sayDifferences(differences).map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
      {rulesChanged ? <p>The counting rules themselves have changed since the answer was given.</p> : null}
      <details>
        <summary className="min-h-11 cursor-pointer py-2">Its reasons</summary>
        <ul className="list-disc space-y-1 pl-5">
          {cover.because.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      </details>
    </article>
  );
}

export function sayDifferences(differences: readonly Difference[]): string[] {
  return differences.map(({ what, before, after }) => `${whatWords[what]}: ${say(before)} before, ${say(after)} now.`);
}

function say(value: string | null): string {
  if (value === null) return "not known";
  if (isCalendarDate(value)) return sayDate(value);
  return labelOf({ ...coverLabels, ...evidenceWords }, value);
}
