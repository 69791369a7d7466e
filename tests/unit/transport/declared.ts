import { type CriterionAnswer, criteria } from "@/lib/transport/criteria";
import { classDeclarationSchema } from "@/lib/transport/declare-class";

/** A class as somebody declares it, every criterion answered alike. */
export function declaration(transportClass: string, answer: CriterionAnswer = "no-sign", change: object = {}) {
  return classDeclarationSchema.parse({
    transportClass,
    criteria: Object.fromEntries(criteria.map((criterion) => [criterion, answer])),
    reason: "Looked at from all sides; log read.",
    seenDeclarations: 0,
    ...change,
  });
}
