import type { Actor, Role } from "@/lib/access/actor";

/** The offices of the house whose notices a person is meant to read: the own, and the safety officer's while standing in for it. */
export function officesHeard({ role, isSafetyDeputy }: Pick<Actor, "role" | "isSafetyDeputy">): Role[] {
  return isSafetyDeputy === true && role !== "safety-officer" ? [role, "safety-officer"] : [role];
}
