import type { Act } from "@/lib/access/may";

// What a supplier owes for a failure of its part: the second half of the money track (trade.md 2.3).

export const supplierStates = ["possible", "notified", "share-agreed", "recovered", "written-off"] as const;
export type SupplierState = (typeof supplierStates)[number];

export const supplierStateWords: Readonly<Record<SupplierState, string>> = {
  possible: "Possible, not told yet",
  notified: "The supplier is told",
  "share-agreed": "Share agreed",
  recovered: "Recovered",
  "written-off": "Written off",
};

export function readSupplierState(stored: string): SupplierState {
  const state = supplierStates.find((known) => known === stored);
  if (state === undefined) throw new RangeError(`state of a supplier's line: ${stored} is unknown`);
  return state;
}

/** States in which something is still to be done. */
export const openSupplierStates = ["possible", "notified", "share-agreed"] as const satisfies readonly SupplierState[];

export const supplierMoveNames = ["notify", "agree-share", "recover", "write-off"] as const;
export type SupplierMoveName = (typeof supplierMoveNames)[number];

interface SupplierMove {
  readonly from: readonly SupplierState[];
  readonly to: SupplierState;
  readonly act: Act;
  /** Somebody else than whoever agreed to the share, or wrote the line down, must do it. */
  readonly notBy: "whoever-agreed" | "whoever-opened" | null;
  /** What has to be said besides the reason. */
  readonly asks: "share-and-amount" | "amount" | null;
}

/**
 * The one table of the moves of a supplier's line. Whatever is not here cannot happen; nothing agreed, recovered or given up is
 * ever edited. Money that came in is recorded by another person than agreed on it, and a line is given up by a manager who did
 * not open it (separation of duties as trade.md 2.3 asks it of lines: rule of this house for the supplier's).
 */
export const supplierMoves: Readonly<Record<SupplierMoveName, SupplierMove>> = {
  notify: { from: ["possible"], to: "notified", act: "claim-from-supplier", notBy: null, asks: null },
  "agree-share": {
    from: ["notified"],
    to: "share-agreed",
    act: "claim-from-supplier",
    notBy: null,
    asks: "share-and-amount",
  },
  recover: {
    from: ["share-agreed"],
    to: "recovered",
    act: "record-supplier-payment",
    notBy: "whoever-agreed",
    asks: "amount",
  },
  "write-off": {
    from: openSupplierStates,
    to: "written-off",
    act: "write-off-supplier",
    notBy: "whoever-opened",
    asks: null,
  },
};

export interface SupplierStanding {
  readonly state: SupplierState;
  readonly version: number;
  /** What the failure cost, in the smallest unit of the line's currency. */
  readonly amountMinor: number;
  readonly agreedMinor: number | null;
  readonly openedByUserId: string;
  readonly agreedByUserId: string | null;
}

export interface SupplierMoveRequest {
  readonly name: SupplierMoveName;
  readonly seenVersion: number;
  readonly reason: string;
  /** Share the supplier takes, in percent; with the agreement alone. */
  readonly sharePercent?: number | undefined;
  /** What is agreed, or what came in, in the smallest unit of the line's currency. */
  readonly amountMinor?: number | undefined;
}

export type SupplierRefusal =
  | "someone-changed-this"
  | "not-from-here"
  | "reason-missing"
  | "same-person"
  | "share-missing"
  | "amount-missing"
  | "more-than-it-cost"
  | "more-than-agreed";

export const supplierRefusalSentences: Readonly<Record<SupplierRefusal, string>> = {
  "someone-changed-this": "Somebody moved this line while you had it open. Look at it as it is now.",
  "not-from-here": "The line has moved on, so this step is no longer open.",
  "reason-missing": "Write the reason, or the letter or payment this rests on: the next reader has only this.",
  "same-person": "Somebody else has to do this: not whoever opened the line or agreed to the share. Ask a colleague.",
  "share-missing": "Give the share in percent, above 0 and at most 100.",
  "amount-missing": "Give the amount, above nothing.",
  "more-than-it-cost": "More than the failure cost cannot be agreed on this line.",
  "more-than-agreed": "More than was agreed cannot be recovered on this line.",
};

const WHOLE_PERCENT = 100;

/** Why a move of a supplier's line is not open, or null where it is. Whether the role allows it is asked of the table of acts. */
export function refusalOfSupplierMove(
  standing: SupplierStanding,
  {
    name,
    seenVersion,
    reason,
    sharePercent,
    amountMinor,
    byUserId,
  }: SupplierMoveRequest & { readonly byUserId: string },
): SupplierRefusal | null {
  const { from, notBy, asks } = supplierMoves[name];
  if (seenVersion !== standing.version) return "someone-changed-this";
  if (!from.includes(standing.state)) return "not-from-here";
  if (notBy === "whoever-opened" && byUserId === standing.openedByUserId) return "same-person";
  if (notBy === "whoever-agreed" && byUserId === standing.agreedByUserId) return "same-person";
  if (reason.trim() === "") return "reason-missing";
  if (asks === null) return null;
  if (asks === "share-and-amount" && !(sharePercent !== undefined && sharePercent > 0 && sharePercent <= WHOLE_PERCENT))
    return "share-missing";
  if (amountMinor === undefined || amountMinor <= 0) return "amount-missing";
  if (asks === "share-and-amount") return amountMinor > standing.amountMinor ? "more-than-it-cost" : null;
  return amountMinor > (standing.agreedMinor ?? 0) ? "more-than-agreed" : null;
}
