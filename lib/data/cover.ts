import "server-only";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { type Cover, coverOf } from "@/lib/warranty/cover";
import { policyInForce, type WarrantyPolicy, warrantyPolicySchema } from "@/lib/warranty/policy.schema";
import { fromDateColumn } from "./calendar-columns";
import type { Transaction } from "./database";
import type { PackFacts } from "./pack-facts";

/** What a page shows of a cover answer. */
export interface CoverView {
  readonly outcome: Cover["outcome"];
  readonly startsOn: string | null;
  readonly endsOn: string | null;
  readonly evidence: string | null;
  readonly policyVersion: string;
  readonly because: readonly string[];
}

export interface StatedSale {
  readonly soldOn: CalendarDate;
  readonly proven: boolean;
}

export type CoveredPack = Pick<PackFacts, "builtOn" | "start" | "replacements">;

interface Complaint {
  readonly toldOn: CalendarDate;
  readonly today?: CalendarDate;
  readonly stated: StatedSale | null;
}

/**
 * The cover of a pack for a complaint told on a day, under the policy in force when the pack was sold (or built, where
 * no sale is known). What the dealer states counts beside what is recorded.
 */
export async function answerCover(tx: Transaction, pack: CoveredPack, complaint: Complaint): Promise<Cover> {
  return coverUnder(await readPolicies(tx), pack, complaint);
}

/** The same where the policies are at hand. */
export function coverUnder(policies: readonly WarrantyPolicy[], pack: CoveredPack, complaint: Complaint): Cover {
  const { toldOn, today, stated } = complaint;
  const start =
    stated === null
      ? pack.start
      : { ...pack.start, ...(stated.proven ? { deliveryReceiptOn: stated.soldOn } : { statedOn: stated.soldOn }) };
  const soldOn = start.deliveryReceiptOn ?? start.registration?.deliveredOn ?? start.statedOn ?? pack.builtOn;
  return coverOf({ start, toldOn, today, replacements: pack.replacements }, policyForSale(policies, soldOn));
}

export async function readPolicies(tx: Transaction): Promise<WarrantyPolicy[]> {
  return (await tx.warrantyPolicy.findMany()).map(toPolicy);
}

/** The policy in force on the day of the sale; a pack sold before the first dated policy has the first one. */
function policyForSale(policies: readonly WarrantyPolicy[], soldOn: CalendarDate): WarrantyPolicy {
  const inForce = policyInForce(policies, soldOn);
  if (inForce !== null) return inForce;
  const [first, ...rest] = policies;
  if (first === undefined) throw new Error("No warranty policy is stored: cover cannot be answered.");
  return rest.reduce((found, policy) => (policy.validFrom < found.validFrom ? policy : found), first);
}

function toPolicy(row: { validFrom: Date } & Record<string, unknown>): WarrantyPolicy {
  return warrantyPolicySchema.parse({ ...row, validFrom: fromDateColumn(row.validFrom) });
}

export function coverView(cover: Cover): CoverView {
  const { outcome, startsOn, endsOn, evidence, policyVersion, because } = cover;
  return { outcome, startsOn, endsOn, evidence, policyVersion, because };
}
