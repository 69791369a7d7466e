/** How a dealer who states a date of sale knows it; the cover answer weighs it. */
export const saleEvidences = ["delivery-receipt", "till-record", "customer-says"] as const;
export type SaleEvidence = (typeof saleEvidences)[number];

export const saleEvidenceLabels: Readonly<Record<SaleEvidence, string>> = {
  "delivery-receipt": "A receipt or delivery note is here",
  "till-record": "It is in our till or sales book",
  "customer-says": "The customer says so",
};
