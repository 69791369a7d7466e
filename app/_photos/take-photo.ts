import { currentActor } from "@/lib/auth/session";
import { keepPackPhoto } from "@/lib/data/packs/pack-photos";
import { MAX_PHOTO_BYTES } from "@/lib/data/packs/photo-cleaning";
import { legAsked } from "@/lib/transport/leg";

/** What a form adds around the photograph: field names and borders. Engineering default. */
const FORM_OVERHEAD_BYTES = 64 * 1024;

/** Takes one photograph from a plain form and leads back to where one of its view is taken, with the answer in the address. */
export async function takePhoto(
  request: Request,
  reference: string,
  backTo: (view: string, leg: string) => string,
): Promise<Response> {
  // A form on another site could otherwise make a signed-in browser send bytes here.
  if (request.headers.get("sec-fetch-site") === "cross-site") return new Response(null, { status: 403 });
  const actor = await currentActor();
  if (actor === null) return new Response(null, { status: 401 });
  const elsewhere = backTo("", "");
  const length = Number(request.headers.get("content-length") ?? Number.NaN);
  if (!(length <= MAX_PHOTO_BYTES + FORM_OVERHEAD_BYTES)) {
    return back(elsewhere, "This is larger than 25 MB. Take it again with a smaller picture size.");
  }
  const form = await request.formData().catch(() => null);
  const photo = form?.get("photo");
  const view = String(form?.get("view") ?? "");
  const leg = String(form?.get("leg") ?? "");
  const page = backTo(view, leg);
  if (!(photo instanceof File) || photo.size === 0) return back(page, "Choose a photograph.");
  const bytes = new Uint8Array(await photo.arrayBuffer());
  const answer = await keepPackPhoto(actor, reference, view, bytes, { leg: legAsked(leg) });
  if (!answer.ok) return back(page, answer.sentence);
  const { legibility } = answer.photo;
  return back(page, legibility.kind === "fair" ? "The photograph is kept." : legibility.sentence);
}

/** Relative, so that it holds behind any front server; the sentence is shown as text and never as markup. */
function back(backTo: string, said: string): Response {
  const [path, part = ""] = backTo.split("#");
  // The part is named once more for the server, which never sees what stands behind the hash.
  const location = `${path}?${new URLSearchParams({ said, of: part })}#${part}`;
  return new Response(null, { status: 303, headers: { Location: location } });
}
