import type { Actor } from "@/lib/access/actor";
import { recordExport } from "@/lib/data/accounts/exports-taken";

/**
 * Leaves an entry before the original log of a return is sent: where and when a customer rode stands in it. `file` is its
 * SHA-256, because a return may have several.
 */
export async function originalLeaves(actor: Actor, reference: string, file: string): Promise<void> {
  await recordExport(actor, `Readings of ${reference}, as they came`, { file });
}

/**
 * Leaves an entry before a photograph is sent by itself. One that a page shows among others leaves none: that is looking, and
 * would drown what was taken. The browser says which it is, and what says nothing counts as taken.
 */
export async function photographLeaves(actor: Actor, request: Request, photoId: string): Promise<void> {
  if (request.headers.get("sec-fetch-dest") === "image") return;
  await recordExport(actor, "A photograph", { photograph: photoId });
}
