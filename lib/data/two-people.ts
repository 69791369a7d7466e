import "server-only";
import type { Actor } from "@/lib/access/actor";
import {
  type Proposal,
  type ProposalState,
  readProposalState,
  type SettlingRefusal,
  type Verdict,
  whyNotSettled,
} from "@/lib/access/two-people";
import { type CalendarDate, compareDates } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn } from "./calendar-columns";
import { asActor, type Transaction } from "./database";
import { breaksUnique, type UniqueName } from "./unique-violation";

/** The columns every table of proposals has, for `select`. */
export const peopleSelect = {
  state: true,
  why: true,
  proposedByUserId: true,
  proposedByName: true,
  proposedAt: true,
  settledByName: true,
  settledAt: true,
} as const;

interface PeopleRow extends Proposal {
  readonly why: string;
  readonly proposedByName: string | null;
  readonly proposedAt: Date;
  readonly settledByName: string | null;
  readonly settledAt: Date | null;
}

/** Who proposed, why, and who settled it. */
export interface TwoPeople {
  readonly state: ProposalState;
  readonly why: string;
  readonly proposedByName: string | null;
  readonly proposedAt: Date;
  readonly settledByName: string | null;
  readonly settledAt: Date | null;
  readonly isOwnProposal: boolean;
}

export function twoPeople(actor: Actor, row: PeopleRow): TwoPeople {
  const { why, proposedByName, proposedAt, settledByName, settledAt } = row;
  return {
    state: readProposalState(row.state),
    why,
    proposedByName,
    proposedAt,
    settledByName,
    settledAt,
    isOwnProposal: row.proposedByUserId === actor.userId,
  };
}

/** The columns of a fresh proposal. */
export function proposedBy(actor: Actor, now: Date) {
  return { state: "proposed", proposedByUserId: actor.userId, proposedByName: actor.name, proposedAt: now } as const;
}

const versionNames = [
  "HolidayCalendar_version_key",
  "LegalDutyVersion_version_key",
  "ReturnSetting_version_key",
  "WarrantyPolicy_version_key",
] as const;

/**
 * Keeps a fresh proposal of a version that begins on a day, today in UTC at the earliest; `create` writes the row. The name of a
 * version is given once.
 */
export async function keepProposal(
  actor: Actor,
  validFrom: CalendarDate,
  now: Date,
  create: (tx: Transaction) => Promise<unknown>,
): Promise<"day-past" | "version-taken" | null> {
  if (compareDates(validFrom, civilDateAt(now, "UTC")) < 0) return "day-past";
  try {
    await asActor(actor, create);
    return null;
  } catch (error) {
    if (breaksUnique(error, ...versionNames)) return "version-taken";
    throw error;
  }
}

interface SettledColumns {
  readonly state: Verdict;
  readonly settledByUserId: string;
  readonly settledByName: string;
  readonly settledAt: Date;
}

export type SettlingAnswer<Reason> = { readonly ok: true } | { readonly ok: false; readonly reason: Reason };

interface Settling<Row extends Proposal, Own extends string> {
  readonly verdict: Verdict;
  readonly now: Date;
  readonly find: (tx: Transaction) => Promise<Row | null>;
  /** What else keeps this one from being approved. */
  readonly whyNotApproved?: (row: Row) => Own | null;
  /** Writes the verdict where the row is still a proposal, and tells how many rows that met. */
  readonly save: (tx: Transaction, row: Row, columns: SettledColumns) => Promise<{ readonly count: number }>;
  /** The index that keeps two approved ones from beginning on one day, where there is such a rule. */
  readonly dayIndex?: UniqueName;
}

/** For what begins on a day, in UTC: nothing is approved once that day is over, because it would change answers given since. */
export function firstDayIsOver({ validFrom }: { readonly validFrom: Date }, now: Date): "day-past" | null {
  return compareDates(fromDateColumn(validFrom), civilDateAt(now, "UTC")) < 0 ? "day-past" : null;
}

/** Settles a proposal in one transaction; of two people at once one is heard and the other is told. */
export async function settleProposal<Row extends Proposal, Own extends string = never>(
  actor: Actor,
  { verdict, now, find, whyNotApproved, save, dayIndex }: Settling<Row, Own>,
): Promise<SettlingAnswer<SettlingRefusal | "day-taken" | Own>> {
  try {
    return await asActor(actor, async (tx) => {
      const row = await find(tx);
      const why = whyNotSettled(actor, row, verdict);
      if (row === null || why !== null) return { ok: false, reason: why ?? "not-found" };
      const own = verdict === "approved" ? (whyNotApproved?.(row) ?? null) : null;
      if (own !== null) return { ok: false, reason: own };
      const by = { settledByUserId: actor.userId, settledByName: actor.name, settledAt: now };
      const { count } = await save(tx, row, { state: verdict, ...by });
      return count === 1 ? { ok: true } : { ok: false, reason: "settled" };
    });
  } catch (error) {
    if (dayIndex !== undefined && breaksUnique(error, dayIndex)) return { ok: false, reason: "day-taken" };
    throw error;
  }
}
