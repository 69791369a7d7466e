import { z } from "zod";

/** How a lent pack looks when it comes back. Somebody looks: nothing here is said by leaving it out. */
export const loanLooks = ["as-lent", "fell", "wet", "not-as-lent"] as const;
export type LoanLook = (typeof loanLooks)[number];

export const loanLookLabels: Readonly<Record<LoanLook, string>> = {
  "as-lent": "As it was lent: dry, whole, cool, nothing told of a fall",
  fell: "It fell, was in a crash, or was crushed",
  wet: "It was under water or soaked",
  "not-as-lent": "Something else is not as it was lent",
};

/** What is told of a pack that is not as it was lent. */
export const tellingLooks: Readonly<Record<Exclude<LoanLook, "as-lent">, string>> = {
  fell: "Back from a loan: it fell, was in a crash, or was crushed.",
  wet: "Back from a loan: it was under water or soaked.",
  "not-as-lent": "Back from a loan, and not as it was lent.",
};

export const loanBackSchema = z.object({
  look: z.enum(loanLooks, "Look at the pack and choose how it came back."),
  condition: z.string().trim().max(300),
});
export type LoanBack = z.output<typeof loanBackSchema>;
