import type { Fault } from "@/lib/diagnosis/finding";
import type { NotSeen } from "@/lib/diagnosis/not-seen";
import type { Symptom } from "@/lib/returns/symptoms";

/** What the customer's words point to. Engineering default; a file never shows what only a person can see or smell. */
const pointsTo: Readonly<Record<Symptom, readonly Fault[]>> = {
  "does-not-switch-on": ["power-stage-fault"],
  "does-not-charge": ["power-stage-fault", "temperature-sensor", "outside-cause"],
  "charges-only-partly": ["temperature-sensor", "imbalance", "weak-cell", "outside-cause"],
  "cuts-out-under-load": ["high-resistance-cell", "high-resistance-joint", "main-lead", "power-stage-fault"],
  "short-range": ["weak-cell", "imbalance"],
  "loses-charge-standing": ["self-discharge"],
  "shows-a-warning": ["temperature-sensor", "measurement-fault"],
  "gets-hot-in-use": ["temperature-sensor", "high-resistance-joint"],
  "damaged-case-or-connector": ["mechanical-damage", "main-lead"],
  "noise-or-smell": ["mechanical-damage"],
  "something-else": [],
};

/** Of the classes the file could not have shown, those this complaint points to; none where a finding explains it. */
export function unseenBehind(
  complaint: Symptom,
  unseenClasses: readonly NotSeen[],
  found: readonly { readonly fault: Fault }[],
): NotSeen[] {
  const meant = pointsTo[complaint];
  return found.some(({ fault }) => meant.includes(fault))
    ? []
    : unseenClasses.filter(({ fault }) => meant.includes(fault));
}
