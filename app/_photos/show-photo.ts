import { photographLeaves } from "@/app/_exports/original-leaves";
import { currentActor } from "@/lib/auth/session";
import { openPackPhoto } from "@/lib/data/packs/pack-photos";

/** One photograph, re-encoded and without metadata, to those who may see it; for anyone else it is not there. */
export async function showPhoto(request: Request, photoId: string): Promise<Response> {
  const actor = await currentActor();
  const bytes = actor === null ? null : await openPackPhoto(actor, photoId);
  if (actor === null || bytes === null) return new Response(null, { status: 404 });
  await photographLeaves(actor, request, photoId);
  return new Response(bytes, {
    headers: {
      "Content-Type": "image/jpeg",
      "X-Content-Type-Options": "nosniff",
      "Content-Security-Policy": "default-src 'none'; sandbox",
      "Cache-Control": "private, no-store",
    },
  });
}
