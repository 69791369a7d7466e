import type { Mover, Role } from "./actor";

const dealers: readonly Role[] = ["dealer", "dealer-admin"];
const service: readonly Role[] = ["technician", "service-lead"];
const house: readonly Role[] = ["technician", "service-lead", "manager", "safety-officer"];
const everyone: readonly Role[] = [...dealers, ...house, "finance", "administrator"];
const lead: readonly Role[] = ["service-lead"];
const manager: readonly Role[] = ["manager"];
const safetyOfficer: readonly Role[] = ["safety-officer"];
const finance: readonly Role[] = ["finance"];
const administrator: readonly Role[] = ["administrator"];

/**
 * The one table of who may do what: least privilege, separation of duties (common practice, no source). What a dealer's
 * user may see or change of the own dealer only is narrowed again by the data layer and by the database. Whoever is
 * measured by the failure rate (the manager) does not write what it is counted from; whoever keeps the accounts (the
 * administrator) sees no case; finance sees the cases it pays for, and no build record.
 */
const allowed = {
  // A dealer's own returns
  "read-own-returns": dealers,
  "lodge-return": dealers,
  "lodge-on-behalf": service,
  "answer-question": [...dealers, ...service],
  "withdraw-return": [...dealers, ...service],
  "confirm-at-counter": dealers,
  "object-to-decision": [...dealers, ...service],
  "upload-readings": dealers,
  /** To an open return: the dealer what was asked for, the bench what it read out of the pack. */
  "add-readings": [...dealers, ...service],
  /** What was confirmed about columns: the dealer's own, and the bench's for any dealer. */
  "withdraw-columns": [...dealers, ...service],
  "export-own-returns": dealers,
  // Everybody's returns
  "read-queue": house,
  "read-cases-for-money": finance,
  "read-readings": [...dealers, ...house],
  "read-build-record": house,
  "export-returns": ["service-lead", "manager", "safety-officer"],
  /** What is told to the own office, also where no letter leaves the house. */
  "read-told": [...house, ...finance, ...administrator],
  // The customer's contact, kept apart from the return
  "read-own-contact": dealers,
  "reveal-contact": ["service-lead", "safety-officer"],
  /** Who looked at a contact, and which files left the house: for whoever answers for both. */
  "read-reveals": [...lead, ...manager, ...safetyOfficer],
  "read-exports": [...manager, ...administrator],
  // The way of a return
  "take-return": service,
  "ask-dealer": service,
  /** Reads the photograph of a proof of sale and confirms by name what it shows; the dealer sends it. */
  "confirm-proof": service,
  /** Chooses between proofs that were read and are at odds. */
  "choose-proof": lead,
  "help-remotely": service,
  "approve-return": service,
  "receive-pack": service,
  "test-pack": service,
  "propose-decision": service,
  "approve-decision": lead,
  "approve-as-second": manager,
  "veto-decision": safetyOfficer,
  "work-on-pack": service,
  "release-pack": service,
  "close-return": manager,
  "state-nothing-owed": [...lead, ...manager, ...finance],
  "merge-returns": service,
  "lapse-return": service,
  "reopen-return": [...lead, ...manager],
  "set-legal-hold": manager,
  // Transport and safety
  "propose-transport-class": house,
  "set-transport-class": ["service-lead", "manager", "safety-officer"],
  "raise-safety": everyone,
  "lower-safety": safetyOfficer,
  /** The dangerous-goods safety adviser has no account; the safety officer records that the adviser confirmed the rules. */
  "confirm-transport-rules": safetyOfficer,
  "propose-transport-rules": ["manager", "safety-officer"],
  "propose-holidays": ["manager", "safety-officer"],
  "approve-holidays": ["manager", "safety-officer"],
  "approve-transport-rules": ["manager", "safety-officer"],
  "read-incidents": ["service-lead", "manager", "safety-officer"],
  "acknowledge-incident": safetyOfficer,
  "keep-incident": safetyOfficer,
  "set-quarantine-places": safetyOfficer,
  // Packs in the field
  "propose-affected-set": ["service-lead", "manager", "safety-officer"],
  "create-affected-set": ["manager", "safety-officer"],
  "stop-ship": ["manager", "safety-officer"],
  /** What is known to be wrong with packs, and whether it covers or stops them: one proposes, another settles. */
  "propose-known-issue": ["service-lead", "manager", "safety-officer"],
  "approve-known-issue": ["manager", "safety-officer"],
  // Money
  "read-own-money": dealers,
  "read-money": [...lead, ...manager, ...finance],
  "claim-money": [...dealers, ...service],
  "check-money": finance,
  "approve-money": ["finance", "manager"],
  "export-money": finance,
  /** What a supplier owes for a failure of its part: followed by manager and finance, given up by a manager alone. */
  "open-supplier-claim": manager,
  "claim-from-supplier": ["manager", "finance"],
  "record-supplier-payment": finance,
  "write-off-supplier": manager,
  // Rules
  "import-sales": manager,
  /** The safety officer is consulted: reads what is promised and proposed, and settles none of it. */
  "read-policies": [...manager, ...safetyOfficer],
  "propose-policy": manager,
  "approve-policy": manager,
  /** What the law of a country asks of the seller. Counsel has no account: a manager who did not propose the row records counsel's word. */
  "propose-law": manager,
  "approve-law": manager,
  "confirm-law": manager,
  "set-rates": finance,
  "deploy-policy": administrator,
  // Tests at the bench
  "propose-test-plan": ["service-lead", "manager"],
  "approve-test-plan": manager,
  "propose-thresholds": ["service-lead", "manager"],
  "approve-thresholds": manager,
  "keep-instruments": service,
  "waive-no-fault-protocol": lead,
  // Failure rates
  "read-reliability": manager,
  "export-reliability": manager,
  /** Early signals as they were kept: whoever is told of one can read it, also where no letter leaves the house. */
  "read-signals": ["manager", "safety-officer"],
  // What failures will cost
  "read-forecast": ["manager", "finance"],
  "export-forecast": ["manager", "finance"],
  "propose-cost": manager,
  "approve-cost": manager,
  "keep-forecast": manager,
  // Accounts
  "manage-own-dealer-accounts": ["dealer-admin"],
  "manage-staff-accounts": manager,
  "manage-all-accounts": administrator,
  "keep-dealers": administrator,
  /** One return, for a written reason and a short time; managers are told. Nothing else of a case is the administrator's. */
  "look-in-emergency": administrator,
  "read-emergency-looks": [...manager, ...administrator],
} as const satisfies Readonly<Record<string, readonly Role[]>>;

export type Act = keyof typeof allowed;

/** What a named deputy of the safety officer does in that office's place; nothing else of it passes on. */
const deputyActs: readonly Act[] = ["lower-safety", "acknowledge-incident", "keep-incident"];

/** The roles an act is given to, for saying whose it is. */
export function whoMay(act: Act): readonly Role[] {
  return allowed[act];
}

/** Whether this person's role allows the act at all; whose rows it touches is the data layer's question. */
export function may(actor: Pick<Mover, "role" | "isSafetyDeputy">, act: Act): boolean {
  const roles: readonly Mover["role"][] = allowed[act];
  return roles.includes(actor.role) || (actor.isSafetyDeputy === true && deputyActs.includes(act));
}
