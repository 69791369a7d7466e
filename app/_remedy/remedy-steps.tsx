import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import { TrackForm } from "@/app/_components/track-form";
import type { RemedyView } from "@/lib/data/remedies/remedy-view";
import { type RemedyState, remedyStateWords } from "@/lib/returns/remedy-track";
import { trackRefused } from "@/lib/returns/track-step";
import { remedyAction } from "./actions";

type Steps = Pick<
  RemedyView,
  "reference" | "state" | "version" | "next" | "steps" | "choice" | "facts" | "decision" | "givenUnit" | "handedBackAt"
>;

/** Where the promise to the customer stands, every step with who and when, and what may be recorded next. */
export function RemedySteps({ remedy }: { remedy: Steps }) {
  const { reference, version, next, steps, decision } = remedy;
  const open = next.filter(({ whyNot }) => whyNot === null);
  const differs = choiceDiffers(remedy);
  return (
    <div className="space-y-4">
      <p>
        <Standing remedy={remedy} />
      </p>
      {differs === null ? null : <p className="font-semibold text-warn">{differs}</p>}
      {steps.length === 0 ? null : (
        <ol className="space-y-2">
          {steps.map(({ at, to, reason, actorName }) => (
            <li key={at.toISOString()} className="border-l-4 border-edge pl-3">
              <strong>{remedyStateWords[to]}</strong>, <LocalTime at={at} />, {actorName}
              <span dir="auto" className="block whitespace-pre-line">
                {reason}
              </span>
            </li>
          ))}
        </ol>
      )}
      {open.length === 0 ? null : (
        <TrackForm
          track="remedy"
          reference={reference}
          version={version}
          label="What happened?"
          button="Record it"
          choices={open.map(({ to }) => ({ value: to, label: remedyStateWords[to] }))}
          action={remedyAction}
        />
      )}
      {decision === null ? null : <ShutSteps steps={next} />}
    </div>
  );
}

/** States that a hand-over outruns. */
const beforeHandOver: readonly RemedyState[] = ["none-yet", "offered", "chosen", "reserved", "sent"];

/** What went over the counter needs nobody's word beside the scan. */
function Standing({ remedy: { state, givenUnit, handedBackAt, decision } }: { remedy: Steps }) {
  if (state === "none-yet" && handedBackAt === null && decision !== null)
    return <strong>Nothing of what was decided is recorded here yet.</strong>;
  if (handedBackAt === null || !beforeHandOver.includes(state)) return <strong>{remedyStateWords[state]}.</strong>;
  return (
    <>
      <strong>Handed over</strong>, <LocalTime at={handedBackAt} />
      {givenUnit === null ? null : (
        <>
          : <SerialText>{givenUnit.serialShown}</SerialText> in place of the old pack
        </>
      )}
      .
    </>
  );
}

/** What is this person's to record but does not follow yet, with the reason; what was not decided is no step at all. */
function ShutSteps({ steps }: { steps: RemedyView["next"] }) {
  const shut = steps.flatMap(({ to, whyNot }) => (whyNot === null || whyNot === notDecided ? [] : [{ to, whyNot }]));
  if (shut.length === 0) return null;
  return (
    <ul className="space-y-2">
      {shut.map(({ to, whyNot }) => (
        <li key={to} className="border-l-4 border-edge bg-raised px-3 py-2">
          <strong>{remedyStateWords[to]}:</strong> {whyNot}
        </li>
      ))}
    </ul>
  );
}

const notDecided = trackRefused("not-what-was-decided").sentence;

/** The customer's choice is not overruled in silence: where the law gives it, the reason has to say why. */
function choiceDiffers({ choice, facts: { decidedRemedy } }: Steps): string | null {
  const isOther =
    (choice === "repair" && decidedRemedy === "replace") || (choice === "replacement" && decidedRemedy === "repair");
  if (!isOther) return null;
  return `The customer chose ${choice === "repair" ? "a repair" : "a replacement"}, and the other was decided. Say in the reason why the chosen one is impossible or would cost far more.`;
}
