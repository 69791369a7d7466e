import type { CalendarDate } from "./calendar";
import { type Cover, coverOf } from "./cover";
import type { CoverFacts, StartFacts } from "./cover-facts.schema";
import { policyInForce, type WarrantyPolicy } from "./policy.schema";
import { provenDays } from "./proven-days";

/**
 * The policy in force on the day of the sale; a pack sold before the first dated policy has the first one.
 * @throws Error where there is none at all.
 */
export function policyForSale(policies: readonly WarrantyPolicy[], soldOn: CalendarDate): WarrantyPolicy {
  const inForce = policyInForce(policies, soldOn);
  if (inForce !== null) return inForce;
  const [first, ...rest] = policies;
  if (first === undefined) throw new Error("No warranty policy is stored: cover cannot be answered.");
  return rest.reduce((found, policy) => (policy.validFrom < found.validFrom ? policy : found), first);
}

/** The day of the sale by the best of what is known of it; null where nothing is. */
export function daySold(start: StartFacts): CalendarDate | null {
  return provenDays(start)[0] ?? start.registration?.deliveredOn ?? start.statedOn ?? null;
}

export interface CoverByPolicy {
  readonly cover: Cover;
  readonly policy: WarrantyPolicy;
}

/**
 * The answer under the policy that held when the first pack of the chain was sold (or built, where no sale is known). Where the days
 * known differ little the one in the customer's favour is the day of the sale, and its policy the one that was promised.
 */
export function coverByPolicyOfSale(
  facts: CoverFacts,
  policies: readonly WarrantyPolicy[],
  builtOn: CalendarDate,
): CoverByPolicy {
  const policy = policyForSale(policies, daySold(facts.start) ?? builtOn);
  const cover = coverOf(facts, policy);
  if (daySold(facts.start) === null || cover.startsOn === null) return { cover, policy };
  const ofStart = policyForSale(policies, cover.startsOn);
  if (ofStart.version === policy.version) return { cover, policy };
  const again = coverOf(facts, ofStart);
  return again.startsOn === cover.startsOn ? { cover: again, policy: ofStart } : { cover, policy };
}
