import { AnswerForm } from "@/app/_components/answer-form";
import type { AnswerState } from "@/app/_components/answer-state";
import { KeptPhoto } from "@/app/_components/kept-photo";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { Notice } from "@/app/_components/notice";
import { PhotoForm } from "@/app/_photos/photo-form";
import type { Packing } from "@/lib/data/transport/packing-check";
import { photoViewLabels } from "@/lib/receiving/pack-faces";
import type { Leg } from "@/lib/transport/leg";
import type { SourcedText } from "@/lib/transport/sourced-text";

interface PackingPartProps {
  readonly reference: string;
  readonly leg: Leg;
  /** Where photographs of this return are kept and shown. */
  readonly photosAt: string;
  readonly tick: (before: AnswerState, form: FormData) => Promise<AnswerState>;
  readonly packing: Packing;
  readonly checklist: readonly SourcedText[];
  readonly declarations: number;
  /** What came of the photograph just sent. */
  readonly said: string | null;
}

/** Before the box leaves: every point ticked by somebody, and two photographs of the box. */
export function PackingPart({
  reference,
  leg,
  photosAt,
  tick,
  packing,
  checklist,
  declarations,
  said,
}: PackingPartProps) {
  const { check, photos, missingViews } = packing;
  return (
    <div id={leg === "unit-to-maker" ? "packing-unit" : "packing"} className="space-y-4">
      <h3>Before it is handed over</h3>
      {check === null ? (
        <AnswerForm action={tick} submit="Every point is so">
          <input type="hidden" name="reference" value={reference} />
          <input type="hidden" name="leg" value={leg} />
          <input type="hidden" name="seenDeclarations" value={declarations} />
          <ul className="space-y-1">
            {checklist.map(({ text }, index) => (
              <li key={text}>
                <label className="flex min-h-11 items-start gap-3 py-1.5">
                  <input type="checkbox" name="ticked" value={index} className="mt-0.5 size-6 shrink-0" />
                  {text}
                </label>
              </li>
            ))}
          </ul>
        </AnswerForm>
      ) : (
        <p>
          Every point was ticked by {check.checkedByName}, <LocalTime at={check.checkedAt} />.
        </p>
      )}
      {said === null ? null : <Notice kind="info" title={said} />}
      {photos.length === 0 ? null : (
        <ul className="grid grid-cols-2 gap-3">
          {photos.map(({ id, view, takenByName, takenAt }) => (
            <li key={id} className="card p-2">
              <KeptPhoto
                src={`${photosAt}/${id}`}
                alt={`${labelOf(photoViewLabels, view)}, ${reference}`}
                className="aspect-[4/3]"
              />
              <p className="text-sm">
                {labelOf(photoViewLabels, view)}, {takenByName}, <LocalTime at={takenAt} />
              </p>
            </li>
          ))}
        </ul>
      )}
      {missingViews.map((view) => (
        <div key={view} className="card p-3">
          <PhotoForm
            at={photosAt}
            id={view}
            views={[view]}
            label={photoViewLabels[view]}
            hidden={{ leg }}
            spoken={`Keep: ${photoViewLabels[view]}`}
          />
        </div>
      ))}
    </div>
  );
}
