import type { ReturnStatus } from "./return-status";
import { endedStatuses } from "./return-status";

/** A return as far as it matters whether two are one complaint. */
export interface JoinableReturn {
  readonly dealerId: string;
  readonly packId: string;
  readonly status: ReturnStatus;
}

export const joinRefusals = {
  "duplicate-unknown": "There is no other return with this reference. Type it as it stands on that return.",
  "duplicate-elsewhere": "That return is another dealer's: this dealer could not follow it there.",
  "duplicate-of-another-pack":
    "That return is about another pack, which neither replaced this one nor was replaced by it. Withdraw this one instead.",
  "duplicate-ended": "That return has ended, so nothing goes on there.",
} as const;
export type JoinRefusal = keyof typeof joinRefusals;

/**
 * Why a return does not go on in another; null where it may. `chain` are the packs that replaced one another, this one
 * among them: a complaint about a replacement is easily lodged once for each serial.
 */
export function whyNotJoined(
  own: Pick<JoinableReturn, "dealerId">,
  other: JoinableReturn,
  chain: ReadonlySet<string>,
): JoinRefusal | null {
  if (other.dealerId !== own.dealerId) return "duplicate-elsewhere";
  if (!chain.has(other.packId)) return "duplicate-of-another-pack";
  return other.status === "draft" || endedStatuses.some((ended) => ended === other.status) ? "duplicate-ended" : null;
}
