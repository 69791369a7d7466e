import { type CalendarDate, compareDates, plusDays, plusMonths } from "./calendar";
import type { StartFacts } from "./cover-facts.schema";
import type { StartEvidence, WarrantyPolicy } from "./policy.schema";
import { sayDate } from "./say-date";

export interface Start {
  readonly startsOn: CalendarDate;
  readonly evidence: StartEvidence;
  /** The date all months are added to, and months to add before the term: the deemed start is never added to again. */
  readonly countedFrom: CalendarDate;
  readonly monthsBefore: number;
  /** True where nobody claims the pack was delivered on this very day, so a complaint before it contradicts nothing. */
  readonly isEstimate: boolean;
  /** True where the start is a rule between maker and dealer and says nothing about the customer's own clock. */
  readonly settlementOnly: boolean;
  readonly because: string;
}

/**
 * Every start the evidence supports, best evidence first by the order of the policy. A registration made on or after the day of the complaint is
 * worth no more than a statement. A stock-age limit gives a start only where the policy has one. A proof that somebody set aside gives none.
 */
export function startsFromEvidence(
  facts: StartFacts,
  toldOn: CalendarDate,
  policy: Pick<WarrantyPolicy, "stockAgeCapMonths" | "evidenceOrder">,
): Start[] {
  const { deliveryReceiptOn, provenOn = [], registration, statedOn, distributorSale } = facts;
  const starts: Start[] = [];
  if (deliveryReceiptOn !== undefined) {
    const because = `The proof of purchase shows delivery on ${sayDate(deliveryReceiptOn)}.`;
    starts.push(fromSale(deliveryReceiptOn, "delivery-receipt", because));
  }
  for (const proven of provenOn) {
    const because = `A proof of purchase that was read on a return shows delivery on ${sayDate(proven)}.`;
    starts.push(fromSale(proven, "delivery-receipt", because));
  }
  if (registration !== undefined) {
    const { deliveredOn, registeredOn } = registration;
    const early = compareDates(registeredOn, toldOn) < 0;
    const because = `Registered on ${sayDate(registeredOn)}, ${early ? "before" : "not before"} the complaint, as delivered on ${sayDate(deliveredOn)}.`;
    starts.push(fromSale(deliveredOn, early ? "registration-before-complaint" : "statement-at-complaint", because));
  }
  if (statedOn !== undefined) {
    const because = `Stated with the complaint, without proof: delivered on ${sayDate(statedOn)}.`;
    starts.push(fromSale(statedOn, "statement-at-complaint", because));
  }
  if (distributorSale !== undefined) {
    const { soldOn, averageShelfDays } = distributorSale;
    const because = `Estimated from the distributor's sale on ${sayDate(soldOn)}; a proof of purchase replaces the estimate.`;
    starts.push(fromSale(plusDays(soldOn, averageShelfDays), "distributor-sale", because));
  }
  const setAside = facts.setAsideOn ?? [];
  const standing = starts.filter(
    ({ evidence, startsOn }) => evidence !== "delivery-receipt" || !setAside.includes(startsOn),
  );
  const deemed = deemedStart(facts, policy);
  const place = ({ evidence }: Start) => policy.evidenceOrder.indexOf(evidence);
  // The sort is stable: of two of one kind the one recorded first stays first.
  return (deemed === null ? standing : [...standing, deemed]).sort((one, other) => place(one) - place(other));
}

/** The start from dispatch plus the stock-age limit; null where either is unknown. */
export function deemedStart(facts: StartFacts, policy: Pick<WarrantyPolicy, "stockAgeCapMonths">): Start | null {
  const { dispatchedOn } = facts;
  const { stockAgeCapMonths } = policy;
  if (dispatchedOn === undefined || stockAgeCapMonths === null) return null;
  return {
    startsOn: plusMonths(dispatchedOn, stockAgeCapMonths),
    evidence: "dispatch-plus-shelf-limit",
    countedFrom: dispatchedOn,
    monthsBefore: stockAgeCapMonths,
    isEstimate: true,
    settlementOnly: true,
    because: `No sale is known: counted from dispatch on ${sayDate(dispatchedOn)} plus ${stockAgeCapMonths} months of stock age.`,
  };
}

function fromSale(startsOn: CalendarDate, evidence: StartEvidence, because: string): Start {
  return {
    startsOn,
    evidence,
    countedFrom: startsOn,
    monthsBefore: 0,
    isEstimate: evidence === "distributor-sale",
    settlementOnly: false,
    because,
  };
}
