import type { Actor } from "@/lib/access/actor";
import { type Act, may } from "@/lib/access/may";
import { type TrackOutcome, type TrackRequest, type TrackStanding, trackRefused, trackStep } from "./track-step";

/** One line of money: claimed, checked, approved, in a statement, paid; reversed by a move of its own, never by an edit. */
export const moneyStates = ["claimed", "checked", "approved", "in-statement", "paid", "reversed"] as const;
export type MoneyState = (typeof moneyStates)[number];

export const moneyWords: Readonly<Record<MoneyState, string>> = {
  claimed: "Claimed",
  checked: "Checked",
  approved: "Approved",
  "in-statement": "In a statement",
  paid: "Paid",
  reversed: "Reversed",
};

const ways: Readonly<Record<MoneyState, readonly MoneyState[]>> = {
  claimed: ["checked", "reversed"],
  checked: ["approved", "reversed"],
  approved: ["in-statement", "reversed"],
  "in-statement": ["paid", "reversed"],
  paid: ["reversed"],
  reversed: [],
};

const actFor: Readonly<Record<MoneyState, Act>> = {
  claimed: "claim-money",
  checked: "check-money",
  approved: "approve-money",
  "in-statement": "check-money",
  paid: "check-money",
  reversed: "approve-money",
};

export interface MoneyStanding extends TrackStanding<MoneyState> {
  /** Who asked for the money. */
  readonly claimedByUserId: string;
  /** Who lodged the return it belongs to. */
  readonly lodgedByUserId: string;
  /** Who checked the line; null before. */
  readonly checkedByUserId: string | null;
  /** The return has a decision that stands and is not a refusal. */
  readonly isOwed: boolean;
}

export function readMoneyState(stored: string): MoneyState {
  const state = moneyStates.find((known) => known === stored);
  if (state === undefined) throw new RangeError(`money: ${stored} is unknown`);
  return state;
}

/**
 * Moves one line. Whoever claimed the money, lodged the return or checked the line does not approve it; a refused or
 * undecided return pays nothing. Paid is reached once: the only way on is a reversal, which ends the line.
 */
export function moveMoney(
  actor: Actor,
  standing: MoneyStanding,
  request: TrackRequest<MoneyState>,
): TrackOutcome<MoneyState> {
  const { to } = request;
  if (!may(actor, actFor[to])) return trackRefused("not-allowed");
  if (!ways[standing.state].includes(to)) return trackRefused("not-from-here");
  const before = [standing.claimedByUserId, standing.lodgedByUserId, standing.checkedByUserId];
  if (to === "approved" && before.includes(actor.userId)) return trackRefused("same-person");
  if (to === "checked" && before.includes(actor.userId)) return trackRefused("same-person");
  if (to !== "reversed" && to !== "checked" && !standing.isOwed) return trackRefused("undecided");
  return trackStep(standing, request);
}

/** Nothing of it is outstanding. */
export function isMoneySettled(states: readonly MoneyState[]): boolean {
  return states.every((state) => state === "paid" || state === "reversed");
}
