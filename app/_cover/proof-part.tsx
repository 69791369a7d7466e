import { CalendarDay } from "@/app/_components/calendar-day";
import { coverLabels } from "@/app/_components/cover-labels";
import { KeptPhoto } from "@/app/_components/kept-photo";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { Notice } from "@/app/_components/notice";
import { QuestionForm } from "@/app/_components/question-form";
import { PhotoForm } from "@/app/_photos/photo-form";
import type { CoverProofs, EarlierCoverView } from "@/lib/data/warranty/cover-proof";
import { sayDate } from "@/lib/warranty/say-date";
import { proveSaleAction } from "./actions";
import { ChooseProof } from "./choose-proof";

interface ProofPartProps {
  readonly reference: string;
  readonly version: number;
  readonly proofs: CoverProofs;
  /** Where photographs of this return are kept and shown for its reader: its own page's address. */
  readonly under: "/dealer/returns" | "/bench";
  /** What came of the photograph just sent. */
  readonly said: string | null;
}

/** A proof of sale that came later: its photograph, the day it shows, and the answers it replaced. */
export function ProofPart({ reference, version, proofs, under, said }: ProofPartProps) {
  const { mayProve, maySend, photo, earlier, toChoose } = proofs;
  const photos = `${under}/${reference}/photos`;
  return (
    <div id="proof" className="mt-4 space-y-4">
      {earlier.length === 0 ? null : (
        <details className="card">
          <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">
            {earlier.length === 1 ? "The answer before" : `${earlier.length} answers before`}
          </summary>
          <ol className="space-y-4 border-t border-rule p-3">
            {earlier.map((answer) => (
              <Earlier key={answer.number} answer={answer} photos={photos} />
            ))}
          </ol>
        </details>
      )}
      {toChoose.length === 0 ? null : <ChooseProof reference={reference} version={version} proofs={toChoose} />}
      {maySend ? (
        <details className="card" open={photo !== null || said !== null}>
          <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">A proof of sale came</summary>
          <div className="space-y-4 border-t border-rule p-3">
            {said === null ? null : <Notice kind="info" title={said} />}
            {photo === null ? null : (
              <KeptPhoto src={`${photos}/${photo.id}`} alt="The proof of sale" className="max-h-80" />
            )}
            <PhotoForm
              at={photos}
              id="proof"
              views={["proof-of-sale"]}
              label={photo === null ? "Photograph of the proof" : "Another photograph of it, if this one is not clear"}
              hint="Day, seller and serial have to be legible. Cover the customer's name and address before: nobody needs them here."
            />
            {photo === null ? (
              <p>
                For a proof that the service desk has not seen yet. Until it has read the photograph, the answer on
                cover stays as it is.
              </p>
            ) : !mayProve ? (
              <p>It is sent. The service desk reads it, and then the answer on cover is given anew.</p>
            ) : (
              <QuestionForm
                id="proof-day"
                action={proveSaleAction}
                hidden={{ reference, seenVersion: String(version), proofId: photo.id }}
                questions={[
                  { name: "provenSoldOn", label: "Day of delivery to the first customer, as it shows", kind: "date" },
                  { name: "why", label: "What it is, and where it came from", kind: "long" },
                ]}
                button="I have read it: give the answer anew in my name"
              />
            )}
          </div>
        </details>
      ) : null}
    </div>
  );
}

function Earlier({ answer, photos }: { answer: EarlierCoverView; photos: string }) {
  const { outcome, policyVersion, because, provenSoldOn, proofId, chosenAgainst, why, replacedAt, replacedByName } =
    answer;
  return (
    <li className="space-y-2">
      <p>
        <strong>{labelOf(coverLabels, outcome)}</strong>, by version {policyVersion}, until{" "}
        <LocalTime at={replacedAt} />.
      </p>
      <ul className="list-disc space-y-1 pl-5">
        {because.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <p>
        {proofId === null ? (
          <>
            Replaced when {replacedByName} chose the proof that shows delivery on <CalendarDay date={provenSoldOn} />,
            not {chosenAgainst.map(sayDate).join(" and ")}:{" "}
          </>
        ) : (
          <>
            Replaced by a proof that shows delivery on <CalendarDay date={provenSoldOn} />, read by {replacedByName}:{" "}
          </>
        )}
        <span dir="auto">{why}</span>
      </p>
      {proofId === null ? null : (
        <KeptPhoto src={`${photos}/${proofId}`} alt="The proof of sale" className="max-h-80" />
      )}
    </li>
  );
}
