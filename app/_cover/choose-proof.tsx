import Link from "next/link";
import { CalendarDay } from "@/app/_components/calendar-day";
import { QuestionForm } from "@/app/_components/question-form";
import type { ProofToChoose } from "@/lib/data/warranty/choose-proof";
import { sayDate } from "@/lib/warranty/say-date";
import { chooseProofAction } from "./actions";

interface ChooseProofProps {
  readonly reference: string;
  readonly version: number;
  readonly proofs: readonly ProofToChoose[];
}

/** Proofs of one sale that show other days, with where each is to be looked at, and the choice between them. */
export function ChooseProof({ reference, version, proofs }: ChooseProofProps) {
  return (
    <section className="card space-y-3 p-4">
      <h3>Proofs of purchase that are at odds</h3>
      <p>The answer on cover waits until you have looked at them and chosen the one that counts.</p>
      <ul className="list-disc space-y-1 pl-5">
        {proofs.map(({ soldOn, readOn }) => (
          <li key={soldOn}>
            <CalendarDay date={soldOn} />
            {readOn.length === 0 ? ": entered with the sale as shown by a receipt" : ": read on "}
            {readOn.map((other) => (
              <Link key={other} href={`/bench/${other}#proof`} className="mr-2 underline">
                {other}
              </Link>
            ))}
          </li>
        ))}
      </ul>
      <QuestionForm
        id="proof-choice"
        action={chooseProofAction}
        hidden={{
          reference,
          seenVersion: String(version),
          shownDays: proofs.map(({ soldOn }) => soldOn).join(" "),
        }}
        questions={[
          {
            name: "chosenOn",
            label: "Day of delivery on the proof that counts",
            // None stands chosen: who hurries past would have decided.
            choices: [
              { value: "", label: "Choose" },
              ...proofs.map(({ soldOn }) => ({ value: soldOn, label: sayDate(soldOn) })),
            ],
          },
          { name: "why", label: "Why this one, and what is wrong with the others", kind: "long" },
        ]}
        button="This one counts: give the answer anew in my name"
      />
    </section>
  );
}
