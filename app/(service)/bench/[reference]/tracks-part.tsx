import Link from "next/link";
import { PlaceForm } from "@/app/_components/place-form";
import { QuestionForm } from "@/app/_components/question-form";
import { TrackForm } from "@/app/_components/track-form";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { custodyWords, mayComeIn } from "@/lib/returns/custody-track";
import { holdStates, holdWords } from "@/lib/returns/legal-hold";
import { safetyWords } from "@/lib/returns/safety-track";
import { mayBeCollected } from "@/lib/returns/specialist-collection";
import { collectionAction, trackAction } from "./actions";
import { BenchSection } from "./bench-section";

/** Beside the case: how safe the pack is, where it is, and whether it must be kept. */
export function TracksPart({ actor, page }: { actor: Actor; page: BenchReturn }) {
  const { reference, next } = page;
  const { safety, custody, hold } = next;
  const flags = next.safetyChoices.map((value) => ({ value, label: safetyWords[value] }));
  return (
    <BenchSection title="The pack: safety and place">
      <p>
        <strong>{safetyWords[next.handledAs]}.</strong> {custodyWords[custody.place]}.{" "}
        {hold.state === "held" ? <strong>A legal hold lies on it: nothing is destroyed or erased.</strong> : null}
      </p>
      {flags.length === 0 ? null : (
        <Folded title="Raise or lower the safety flag">
          <TrackForm
            track="safety"
            reference={reference}
            version={safety.version}
            label="How safe is the pack?"
            button="Set the flag"
            choices={flags}
            action={trackAction}
          />
        </Folded>
      )}
      {custody.ways.length === 0 ? null : (
        <Folded title="Record where it is now">
          <PlaceForm reference={reference} custody={custody} action={trackAction} />
        </Folded>
      )}
      {mayBeCollected(custody.place) && may(actor, "lower-safety") ? (
        <Folded title="A specialist collected it">
          <p className="mb-3">
            For a pack that nobody ships. Its flag stays as it is. Local rules and trained people decide how it is
            packed and carried.
          </p>
          <QuestionForm
            id="collection"
            action={collectionAction}
            hidden={{ reference, seenVersion: String(custody.version) }}
            questions={[
              { name: "collectedBy", label: "Firm, and the person who came" },
              { name: "paperNumber", label: "Number of the transport or waste paper" },
              { name: "collectedOn", label: "Day on which it was collected", kind: "date" },
              {
                name: "keptAt",
                label: "Where it is kept whole as evidence",
                hint: "Only while an incident of it is open: nothing of it is destroyed before that is closed.",
              },
            ]}
            button="Record in my name that it was collected"
          />
        </Folded>
      ) : null}
      {mayComeIn(custody.place) && may(actor, "receive-pack") ? (
        <p>
          Did it come in?{" "}
          <Link
            href={`/bench/${reference}/receiving`}
            className="font-semibold text-accent underline underline-offset-4"
          >
            Record it at goods-in
          </Link>
        </p>
      ) : null}
      {may(actor, "set-legal-hold") ? (
        <Folded title="Legal hold">
          <TrackForm
            track="hold"
            reference={reference}
            version={hold.version}
            label="Hold"
            button="Record it"
            choices={holdStates
              .filter((state) => state !== hold.state)
              .map((value) => ({ value, label: holdWords[value] }))}
            action={trackAction}
          />
        </Folded>
      ) : null}
    </BenchSection>
  );
}

function Folded({ title, children }: { title: string; children: React.ReactNode }) {
  return (
    <details className="card">
      <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">{title}</summary>
      <div className="border-t border-rule p-3">{children}</div>
    </details>
  );
}
