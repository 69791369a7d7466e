import { KeptPhoto } from "@/app/_components/kept-photo";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { Notice } from "@/app/_components/notice";
import type { ToldPhotos } from "@/lib/data/returns/told-photos";
import { photoViewLabels, toldViews } from "@/lib/receiving/pack-faces";
import { PhotoForm } from "./photo-form";

interface ToldPhotosPartProps {
  readonly reference: string;
  readonly told: ToldPhotos;
  /** Where photographs of this return are kept and shown for its reader: its own page's address. */
  readonly under: "/dealer/returns" | "/bench";
  /** Nobody should come near this pack for a photograph. */
  readonly isDanger: boolean;
  /** What came of the photograph just sent. */
  readonly said: string | null;
}

/** The photographs a decision without the pack rests on, and the way to add one. A plain form: it works before any script. */
export function ToldPhotosPart({ reference, told, under, isDanger, said }: ToldPhotosPartProps) {
  const { photos, missing, mayAdd } = told;
  const at = `${under}/${reference}/photos`;
  return (
    <div id="told-photos" className="space-y-4">
      {said === null ? null : <Notice kind="info" title={said} />}
      <p>
        {missing.length === 0
          ? "Label, display, case and connector are photographed."
          : `Not photographed yet: ${missing.map((view) => photoViewLabels[view].toLowerCase()).join("; ")}.`}
      </p>
      {photos.length === 0 ? null : (
        <ul className="grid grid-cols-2 gap-3 sm:grid-cols-4 xl:grid-cols-2">
          {photos.map(({ id, view, takenByName, takenAt, legibility }) => (
            <li key={id} className="card p-2">
              <a href={`${at}/${id}`}>
                <KeptPhoto
                  src={`${at}/${id}`}
                  alt={`${labelOf(photoViewLabels, view)}, ${reference}`}
                  className="aspect-[4/3]"
                />
              </a>
              <p className="text-sm">
                {labelOf(photoViewLabels, view)}, {takenByName}, <LocalTime at={takenAt} />
              </p>
              {legibility.kind === "fair" ? null : <p className="text-sm text-warn">{legibility.sentence}</p>}
            </li>
          ))}
        </ul>
      )}
      {mayAdd ? (
        <details className="card" open={said !== null}>
          <summary className="min-h-12 cursor-pointer px-3 py-3 font-semibold">Add a photograph</summary>
          <div className="space-y-4 border-t border-rule p-3">
            {isDanger ? (
              <Notice kind="danger" title="Do not go near the pack for a photograph">
                <p>
                  It is set apart or showed a danger sign. Send only what was taken before, or from a safe distance.
                </p>
              </Notice>
            ) : null}
            <PhotoForm
              at={at}
              id="told"
              views={toldViews}
              proposed={missing[0]}
              hint="Open nothing for it. No person, no number plate, no address: nobody needs them here. At most 25 MB."
            />
          </div>
        </details>
      ) : null}
    </div>
  );
}
