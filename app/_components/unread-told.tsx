import { cache } from "react";
import type { Actor } from "@/lib/access/actor";
import { countUnreadTold, MOST_UNREAD_COUNTED } from "@/lib/data/notices/told-to-you";

/** The way to the messages stands twice on a page, once folded for a telephone; it is asked once. */
const unreadOf = cache((actor: Actor) => countUnreadTold(actor));

/** How many messages this person has not read yet, beside the way to them. */
export async function UnreadTold({ actor }: { actor: Actor }) {
  const unread = await unreadOf(actor);
  if (unread === 0) return null;
  return (
    <span className="ml-1.5 border-2 border-ink px-1 text-sm font-bold">
      {unread < MOST_UNREAD_COUNTED ? unread : `${MOST_UNREAD_COUNTED} or more`}
      <span className="sr-only"> not read</span>
    </span>
  );
}
