/** Days within which a refund is paid once it is agreed, at the most: the house sets them with its other periods; the shortest time known of any country here, and a rule of this house in the others. */
export const refundTerm = {
  days: 14,
  mark: "from memory: verify in Consumer Rights Act 2015 (GB), section 20(15)",
} as const;
