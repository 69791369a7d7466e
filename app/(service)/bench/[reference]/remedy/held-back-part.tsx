import { LocalTime } from "@/app/_components/local-time";
import { QuestionForm } from "@/app/_components/question-form";
import { holdPackAgainAction, letPackGoAction } from "@/app/_remedy/actions";
import type { HeldBackView } from "@/lib/data/safety/let-pack-go";
import { WorkSection } from "../bench-section";

/** What keeps the returned pack itself from going back to its customer, and how this one may go all the same. */
export function HeldBackPart({ reference, heldBack }: { reference: string; heldBack: HeldBackView }) {
  const { stops, seenStops, whyNot, words, letGo, mayHoldAgain } = heldBack;
  return (
    <WorkSection title={stops.length > 0 ? "This pack is held back" : "This pack was held back"}>
      {stops.map((stop) => (
        <p key={stop} className="font-semibold text-danger">
          {stop}
        </p>
      ))}
      {words.map(({ kind, why, byName, at }) => (
        <p key={`${kind} ${at.toISOString()}`}>
          {byName} {kind === "let-go" ? "let it go" : "held it back again"}, <LocalTime at={at} />: {why}
        </p>
      ))}
      {stops.length === 0 ? null : (
        <p>
          It goes back to nobody until this one is let go, its set is let go, or something else is decided on the
          return.
        </p>
      )}
      {stops.length === 0 ? null : whyNot === null ? (
        <QuestionForm
          id="let-go"
          action={letPackGoAction}
          hidden={{ reference, seenStops: seenStops.join("\n") }}
          questions={[{ name: "why", label: "Why this one pack may go although the others stay", kind: "long" }]}
          button="Let this pack go"
        />
      ) : (
        <p className="text-soft">{whyNot}</p>
      )}
      {letGo.length === 0 ? null : (
        <p>
          Let go under the decision that stands, although this lies on it: {letGo.join(" ")} Another decision asks anew.
        </p>
      )}
      {mayHoldAgain ? (
        <QuestionForm
          id="hold-again"
          action={holdPackAgainAction}
          hidden={{ reference }}
          questions={[{ name: "why", label: "Why it is held back again", kind: "long" }]}
          button="Hold this pack back again"
        />
      ) : null}
    </WorkSection>
  );
}
