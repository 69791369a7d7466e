import type { Actor, Role } from "./actor";

/** Everything that is asked about. What a dealer may see of its own returns only is narrowed again by the data layer. */
export const acts = [
  "lodge-return",
  "withdraw-return",
  "upload-readings",
  "read-readings",
  "read-build-record",
  "read-queue",
  "take-return",
  "decide-return",
  "read-reliability",
  "export-reliability",
] as const;
export type Act = (typeof acts)[number];

const everyone: readonly Role[] = ["dealer", "service", "manager"];
const dealer: readonly Role[] = ["dealer"];
const house: readonly Role[] = ["service", "manager"];
const service: readonly Role[] = ["service"];
const manager: readonly Role[] = ["manager"];

/**
 * The one table of who may do what. Least privilege; a manager reads, but neither lodges nor decides a single return,
 * so that whoever is measured by the failure rate does not write it. In this version only a dealer lodges and withdraws,
 * for its own workshop: the maker's people have no dealer in whose name a return could stand.
 */
const allowed: Readonly<Record<Act, readonly Role[]>> = {
  "lodge-return": dealer,
  "withdraw-return": dealer,
  "upload-readings": dealer,
  "read-readings": everyone,
  "read-build-record": house,
  "read-queue": house,
  "take-return": service,
  "decide-return": service,
  "read-reliability": manager,
  "export-reliability": manager,
};

/** Whether this person's role allows the act at all; whose rows it touches is the data layer's question. */
export function may(actor: Actor, act: Act): boolean {
  return allowed[act].includes(actor.role);
}
