import "server-only";
import type { Actor } from "@/lib/access/actor";
import { type PhotoView, toldViews } from "@/lib/receiving/pack-faces";
import { undecided } from "@/lib/returns/case-stages";
import { asActor } from "../database";
import { mayTake, type PhotoCard, photoCard, photoSelect } from "../packs/pack-photos";

export interface ToldPhotos {
  /** The newest first; of one view there may be several. */
  readonly photos: readonly PhotoCard[];
  readonly missing: readonly PhotoView[];
  /** Whether this person may add one as the return stands. */
  readonly mayAdd: boolean;
}

/** What was photographed of the complaint before the pack was in anybody's hands here; null where the return is none of theirs. */
export function readToldPhotos(actor: Actor, reference: string): Promise<ToldPhotos | null> {
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference },
      select: {
        status: true,
        photos: { where: { view: { in: [...toldViews] } }, orderBy: { takenAt: "desc" }, select: photoSelect },
      },
    });
    if (row === null) return null;
    const isOpen = undecided.some((status) => status === row.status);
    return {
      photos: row.photos.map(photoCard),
      missing: toldViews.filter((view) => !row.photos.some((photo) => photo.view === view)),
      mayAdd: isOpen && toldViews.every((view) => mayTake(actor, view, "to-maker")),
    };
  });
}
