import { ButtonLink } from "@/app/_components/button";
import { LocalTime } from "@/app/_components/local-time";
import { OneStepForm } from "@/app/_components/one-step-form";
import { SerialText } from "@/app/_components/serial-text";
import type { DraftView } from "@/lib/data/returns/return-drafts";
import { dangerOf } from "@/lib/returns/danger-signs";
import { dropDraftAction } from "./draft-actions";

/** What the workshop has not sent yet: anyone of it goes on with it, on any device. */
export function DraftList({ drafts }: { drafts: readonly DraftView[] }) {
  if (drafts.length === 0) return null;
  return (
    <section className="mt-8 space-y-3">
      <h2>Not sent yet</h2>
      <ul className="space-y-3">
        {drafts.map((draft) => (
          <li key={draft.clientKey} className="card space-y-2 p-4">
            <p className="font-semibold">
              {draft.answers.serial === "" ? "No pack named yet" : <SerialText>{draft.answers.serial}</SerialText>}
            </p>
            <p className="text-soft">
              {draft.isOnBehalf ? `Begun for you by ${draft.startedByName} of the maker's service. ` : null}
              Kept by {draft.savedByName}, <LocalTime at={draft.savedAt} />.{" "}
              {dangerOf(draft.answers.dangerSigns).kind === "none"
                ? "The maker has not received it."
                : "The maker was told of the danger; the return itself is not sent."}
            </p>
            <div className="flex flex-wrap gap-3">
              <ButtonLink href={`/dealer/returns/new?draft=${draft.clientKey}&step=check`} weight="second">
                Go on with it
              </ButtonLink>
              <OneStepForm
                action={dropDraftAction}
                hidden={{ clientKey: draft.clientKey }}
                button="Throw away"
                spoken={`Throw away the return not sent yet ${draft.answers.serial}`.trim()}
              />
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}
