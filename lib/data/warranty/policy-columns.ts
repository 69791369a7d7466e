import "server-only";
import { type WarrantyPolicy, warrantyPolicySchema } from "@/lib/warranty/policy.schema";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";

/** The columns of a version that set-up writes: in force without a second person, because nobody proposed it. */
export function policyColumns(policy: WarrantyPolicy) {
  return { ...termColumns(policy), state: "approved", why: "Written at set-up." };
}

export function termColumns({ validFrom, evidenceOrder, ...terms }: WarrantyPolicy) {
  return { ...terms, validFrom: toDateColumn(validFrom), evidenceOrder: [...evidenceOrder] };
}

export function toPolicy(row: { validFrom: Date } & Record<string, unknown>): WarrantyPolicy {
  return warrantyPolicySchema.parse({ ...row, validFrom: fromDateColumn(row.validFrom) });
}

/** The approved versions: proposals count for nothing until a second person has approved them. */
export async function readPolicies(tx: Transaction): Promise<WarrantyPolicy[]> {
  return (await tx.warrantyPolicy.findMany({ where: { state: "approved" } })).map(toPolicy);
}
