import "server-only";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Prisma } from "@/prisma/generated/client";
import { toDateColumn } from "../calendar-columns";

// Which issues concern a pack, and on which days, asked in one way by all who read them: one that begins tomorrow stops and covers
// nothing today, and one whose end is written down counts until then.

/** What an issue is bound to: a revision, a lot that is still built in, both, or a set of packs. */
export interface IssueBound {
  readonly revisionId: string | null;
  readonly lotId: string | null;
  readonly setId: string | null;
}

/** The packs an issue concerns, as they are maintained. */
export function packsUnder({ revisionId, lotId, setId }: IssueBound): Prisma.PackWhereInput {
  return {
    ...(revisionId === null ? {} : { revisionId }),
    ...(lotId === null ? {} : { lots: { some: { lotId, removedOn: null } } }),
    ...(setId === null ? {} : { affectedSets: { some: { setId } } }),
  };
}

/** The issues that concern a pack, whatever the day. */
export function concerning(pack: {
  readonly packId: string;
  readonly revisionId: string;
}): Prisma.KnownIssueWhereInput {
  return {
    AND: [
      { OR: [{ revisionId: null }, { revisionId: pack.revisionId }] },
      { OR: [{ lotId: null }, { lot: { packs: { some: { packId: pack.packId, removedOn: null } } } }] },
      { OR: [{ setId: null }, { set: { packs: { some: { packId: pack.packId } } } }] },
    ],
  };
}

/** Open on one of these days at least. */
export function openOn(...days: readonly CalendarDate[]): Prisma.KnownIssueWhereInput {
  return {
    OR: days.map(toDateColumn).map((on) => ({
      openedOn: { lte: on },
      OR: [{ closedOn: null }, { closedOn: { gt: on } }],
    })),
  };
}

/** Open today, on the calendar by which issues begin and end: that of UTC. */
export function openToday(): Prisma.KnownIssueWhereInput {
  return openOn(civilDateAt(new Date(), "UTC"));
}
