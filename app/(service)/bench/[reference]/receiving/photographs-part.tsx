import { KeptPhoto } from "@/app/_components/kept-photo";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { Notice } from "@/app/_components/notice";
import { PhotoForm } from "@/app/_photos/photo-form";
import type { ReceivedPack } from "@/lib/data/receiving/received-pack";
import { photoViewLabels, takenAtGoodsIn } from "@/lib/receiving/pack-faces";
import { WorkSection } from "../bench-section";

interface PhotographsPartProps {
  readonly pack: ReceivedPack;
  readonly mayReceive: boolean;
  /** What came of the photograph just sent. */
  readonly said: string | null;
}

/** The six faces before anything is opened. A plain form: it works with any camera and before any script. */
export function PhotographsPart({ pack, mayReceive, said }: PhotographsPartProps) {
  const { photos, missingFaces, reference, cameAgainAt } = pack;
  return (
    <div id="photographs">
      <WorkSection title="2. Photographs before opening">
        {said === null ? null : <Notice kind="info" title={said} />}
        {cameAgainAt === null ? null : (
          <p>
            It came in again, <LocalTime at={cameAgainAt} />: its faces are photographed anew. What was photographed
            before shows it, or another pack, as it was then.
          </p>
        )}
        {missingFaces.length === 0 ? (
          <p>All six faces are photographed.</p>
        ) : (
          <p>Still missing: {missingFaces.map((face) => labelOf(photoViewLabels, face).toLowerCase()).join(", ")}.</p>
        )}
        {mayReceive ? (
          <PhotoForm
            at={`/bench/${reference}/photos`}
            id="goods-in"
            views={takenAtGoodsIn}
            proposed={missingFaces[0] ?? "label"}
            hint="JPEG, PNG, WebP or AVIF, at most 25 MB. Place, time and camera are taken out of it."
            isMain
          />
        ) : null}
        <ul className="grid grid-cols-2 gap-3">
          {photos.map((photo) => (
            <li key={photo.id} className="card p-2">
              <KeptPhoto
                src={`/bench/${reference}/photos/${photo.id}`}
                alt={`${labelOf(photoViewLabels, photo.view)} of the pack of ${reference}`}
                className="aspect-[4/3]"
              />
              <p className="text-sm">
                {labelOf(photoViewLabels, photo.view)}, {photo.takenByName}, <LocalTime at={photo.takenAt} />
              </p>
              {photo.legibility.kind === "fair" ? null : (
                <p className="text-sm text-warn">{photo.legibility.sentence}</p>
              )}
              <p className="truncate text-xs text-soft">SHA-256 of the original {photo.originalSha256}</p>
            </li>
          ))}
        </ul>
      </WorkSection>
    </div>
  );
}
