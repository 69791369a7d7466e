import Link from "next/link";
import { ButtonLink } from "@/app/_components/button";
import { StepForm } from "@/app/_components/step-form";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { mayComeIn } from "@/lib/returns/custody-track";
import type { MoveName } from "@/lib/returns/move-names";
import type { MoveRefusal } from "@/lib/returns/move-refusal";
import { atGoodsIn, inItsPart, isDecidedUntested, mainSteps } from "@/lib/returns/what-to-show";
import { moveAction } from "./actions";
import { BenchSection } from "./bench-section";
import { DecisionCard } from "./decision-card";
import { DecisionDesk } from "./decision-desk";
import { OtherSteps } from "./other-steps";
import { ProposalCard } from "./proposal-card";
import { QuestionCard } from "./question-card";
import { TurnLine } from "./turn-line";
import { whereMended } from "./where-mended";

const reasonLabels: Readonly<Partial<Record<MoveName, string>>> = {
  ask: "What do you need to know?",
  answer: "The answer",
  "take-up-again": "The answer, or why it goes on",
  help: "What should the dealer do?",
};

interface NextStepProps {
  readonly page: BenchReturn;
  /** What a decision without the pack in hand rests on, in words; null once it was tested here. */
  readonly restsOn: string | null;
  /** The pack was never here and photographs of the complaint are missing. */
  readonly isUnseen: boolean;
}

/** Whose turn it is, what was decided or proposed, the steps open to this person, and why others are not. */
export function NextStep({ page, restsOn, isUnseen }: NextStepProps) {
  const { reference, version, decision, check, next } = page;
  const { own, others, proposal, question } = next;
  const propose = own.find(({ name }) => name === "propose");
  // A pack is received at goods-in, where the same entry records how it came in and moves the return.
  const isReceived = own.some(({ name }) => name === "receive");
  const isExpected = isReceived && page.status === "return-expected";
  const forms = own.filter(({ name, whyNot }) => name !== "propose" && !atGoodsIn.includes(name) && whyNot === null);
  const main = forms.filter(({ name }) => mainSteps.includes(name));
  const more = forms.filter(({ name }) => !mainSteps.includes(name));
  const mayBeSecond = forms.some(({ name }) => name === "approve-as-second");
  const shut = own.flatMap(({ name, label, whyNot, lack }) =>
    // Whoever may approve as the second person is not told besides that the first one comes first: that is done.
    whyNot === null || atGoodsIn.includes(name) || inItsPart.includes(name) || (name === "approve" && mayBeSecond)
      ? []
      : [{ name, label, whyNot, lack }],
  );
  return (
    <BenchSection title="Next step">
      <TurnLine next={next} settled={page.settledBefore} />
      {decision === null ? null : <DecisionCard decision={decision} />}
      {proposal === null ? null : <ProposalCard proposal={proposal} wasDecidedBefore={next.wasDecidedBefore} />}
      {question === null ? null : <QuestionCard question={question} />}
      {isExpected ? (
        <ButtonLink href={`/bench/${reference}/receiving`} className="w-full">
          Receive the pack at goods-in
        </ButtonLink>
      ) : null}
      {main.map((step) => (
        <StepForm
          key={step.name}
          step={step}
          reference={reference}
          version={version}
          action={moveAction}
          reasonLabel={reasonLabels[step.name] ?? "Why?"}
          main
        />
      ))}
      {/* Why the step that would carry it on is shut has to be seen without looking for it. */}
      {shut
        .filter(({ name }) => mainSteps.includes(name))
        .map(({ name, label, whyNot, lack }) => (
          <p key={name} className="border-l-4 border-edge bg-raised px-3 py-2">
            <strong>{label}:</strong> {whyNot} <WhereMended reference={reference} lack={lack} />
          </p>
        ))}
      {restsOn === null || propose?.whyNot !== null ? null : (
        <p>{restsOn} What is missing is asked of the dealer, or the pack is called in.</p>
      )}
      <DecisionDesk
        reference={reference}
        version={version}
        isOpen={propose !== undefined && propose.whyNot === null}
        isUntested={isDecidedUntested(page.status)}
        isSolvedThere={next.isSolvedThere}
        asksForTests={page.status === "under-test" && !next.testsAreKept}
        replacements={check.replacement.kind === "may-replace" ? check.replacement.options : []}
        whyNoReplacement={check.replacement.kind === "none" ? check.replacement.sentence : null}
        repairNote={repairNote(page)}
        given={next.given}
        isUnseen={isUnseen}
      />
      {isReceived && !isExpected && mayComeIn(next.custody.place) ? (
        <p>
          Did the pack come in unannounced?{" "}
          <Link
            href={`/bench/${reference}/receiving`}
            className="font-semibold text-accent underline underline-offset-4"
          >
            Receive it at goods-in
          </Link>
        </p>
      ) : null}
      {more.map((step) => (
        <details key={step.name} className="card">
          <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">{step.label}</summary>
          <div className="border-t border-rule p-3">
            <StepForm
              step={step}
              reference={reference}
              version={version}
              action={moveAction}
              reasonLabel={reasonLabels[step.name] ?? "Why?"}
            />
          </div>
        </details>
      ))}
      <OtherSteps shut={shut.filter(({ name }) => !mainSteps.includes(name))} others={others} />
    </BenchSection>
  );
}

function WhereMended({ reference, lack }: { reference: string; lack: MoveRefusal | null }) {
  const place = lack === null ? undefined : whereMended[lack];
  if (place === undefined) return null;
  return (
    <Link href={`/bench/${reference}/${place.path}`} className="font-semibold text-accent underline underline-offset-4">
      {place.label}
    </Link>
  );
}

function repairNote({ potted, cellsRepairable }: BenchReturn): string | null {
  if (potted) return "This revision is potted: no cell can be exchanged and no joint made again.";
  return cellsRepairable ? null : "In this revision cells cannot be exchanged.";
}
