import { operationOf, partKindWords } from "./operations";
import type { WorkEntry } from "./work-entry.schema";

/** What is known where somebody records work on a pack. */
export interface WorkFacts {
  /** The return is in work by a decision to repair. */
  readonly isInWork: boolean;
  readonly isReleased: boolean;
  readonly isSetApart: boolean;
  readonly isOnHold: boolean;
  readonly packIsHere: boolean;
  readonly groupCount: number;
  readonly isPotted: boolean;
  readonly cellsRepairable: boolean;
  /** The lot typed, of the kind the operation asks for; null where none of that kind and code is booked in. */
  readonly part: { readonly left: number; readonly stop: string | null } | null;
  /** Another pack has a board of this identity. */
  readonly identityIsTaken: boolean;
}

export interface RefusedWork {
  readonly field: keyof WorkEntry;
  readonly sentence: string;
}

/** Why a piece of work is not recorded, at the field that has to be looked at; null where it is. */
export function whyWorkIsRefused(entry: WorkEntry, facts: WorkFacts): RefusedWork | null {
  const at = (field: keyof WorkEntry, sentence: string): RefusedWork => ({ field, sentence });
  const { part, asksFor, label } = operationOf(entry.operation);
  if (!facts.isInWork) return at("operation", "This return is not in work by a decision to repair the pack.");
  if (facts.isReleased) return at("operation", "The pack is released: nothing more is done to it under this decision.");
  if (facts.isSetApart) return at("operation", "The pack is set apart for safety. The safety officer judges it first.");
  if (facts.isOnHold) return at("operation", "A legal hold lies on this pack: it is kept as it is.");
  if (!facts.packIsHere) return at("operation", "The pack is not at the works.");
  if (entry.operation === "group-exchanged" && !facts.cellsRepairable)
    return at("operation", "In this revision cells cannot be exchanged.");
  if (facts.isPotted && ["group-exchanged", "joint-remade"].includes(entry.operation))
    return at("operation", "This revision is potted: no joint can be made again without destroying it.");
  if (asksFor.includes("groups") && entry.groups.length === 0) return at("groups", "Name the group it was done to.");
  const beyond = entry.groups.find((group) => group > facts.groupCount);
  if (beyond !== undefined) return at("groups", `This pack has ${facts.groupCount} groups, so there is no ${beyond}.`);
  if (asksFor.includes("resistance") && entry.resistanceMilliohm.length !== entry.groups.length)
    return at("resistanceMilliohm", "Measure the resistance of each group named, after the work.");
  if (asksFor.includes("identity") && entry.identity === undefined)
    return at("identity", "Give the identity of the new board.");
  if (facts.identityIsTaken)
    return at("identity", "A board of this identity is in another pack. Compare it once more.");
  if (asksFor.includes("firmware") && entry.firmware === undefined) return at("firmware", "Give the firmware it has.");
  if (part === null)
    return entry.lotCode === undefined ? null : at("lotCode", `“${label}” uses no part from a lot. Leave it empty.`);
  if (entry.lotCode === undefined) return at("lotCode", `Give the lot of the part (${partKindWords[part]}).`);
  if (facts.part === null)
    return at(
      "lotCode",
      `No lot ${entry.lotCode} of this kind (${partKindWords[part]}) is booked in. Compare it with the bag, or have it booked in first.`,
    );
  if (facts.part.stop !== null) return at("lotCode", `Lot ${entry.lotCode} is stopped: ${facts.part.stop}.`);
  if (facts.part.left < 1)
    return at("lotCode", `Nothing is left of lot ${entry.lotCode} by the books. Count the shelf.`);
  return null;
}
