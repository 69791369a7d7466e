import type { Actor, Role } from "./actor";

/** Everything that is asked about. What a dealer may see of its own returns only is narrowed again by the data layer. */
export const acts = [
  "lodge-return",
  "read-return",
  "withdraw-return",
  "upload-readings",
  "read-readings",
  "read-pack-summary",
  "read-build-record",
  "read-queue",
  "take-return",
  "decide-return",
  "record-repair",
  "send-replacement",
  "raise-safety",
  "lower-safety",
  "move-custody",
  "read-reliability",
  "read-affected-set",
  "freeze-affected-set",
  "export-reliability",
] as const;
export type Act = (typeof acts)[number];

const everyone: readonly Role[] = ["dealer", "service", "manager"];
const house: readonly Role[] = ["service", "manager"];
const service: readonly Role[] = ["service"];
const manager: readonly Role[] = ["manager"];

/**
 * The one table of who may do what. Least privilege; a manager reads and answers for safety, but neither lodges nor
 * decides a single return, so that whoever is measured by the failure rate does not write it.
 */
const allowed: Readonly<Record<Act, readonly Role[]>> = {
  "lodge-return": ["dealer", "service"],
  "read-return": everyone,
  "withdraw-return": ["dealer", "service"],
  "upload-readings": ["dealer", "service"],
  "read-readings": everyone,
  "read-pack-summary": everyone,
  "read-build-record": house,
  "read-queue": house,
  "take-return": service,
  "decide-return": service,
  "record-repair": service,
  "send-replacement": service,
  // Anyone who sees smoke may say so; only the one who answers for safety may call it over.
  "raise-safety": everyone,
  "lower-safety": manager,
  "move-custody": everyone,
  "read-reliability": manager,
  "read-affected-set": house,
  "freeze-affected-set": manager,
  "export-reliability": manager,
};

/** Whether this person's role allows the act at all; whose rows it touches is the data layer's question. */
export function may(actor: Actor, act: Act): boolean {
  return allowed[act].includes(actor.role);
}
