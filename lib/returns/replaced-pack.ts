/** Why a pack that was replaced stands before somebody again. Without a plain answer it is not lodged. */
export const replacedReasons = ["never-handed-over", "kept-by-customer", "comes-back-late"] as const;
export type ReplacedReason = (typeof replacedReasons)[number];

export const replacedReasonLabels: Readonly<Record<ReplacedReason, string>> = {
  "never-handed-over": "The replacement never reached the customer",
  "kept-by-customer": "The customer kept this pack beside the replacement",
  "comes-back-late": "It was exchanged and is only now sent back",
};
