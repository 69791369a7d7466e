import type { Fault } from "@/lib/diagnosis/finding";
import type { ConfirmedFault, DecidableRemedy } from "@/lib/returns/decision.schema";
import type { ScenarioRevision } from "./scenario";

/** What the bench does about a fault in a pack of this build: potting forbids what an open pack allows. */
export function remedyFor(fault: Fault, revision: ScenarioRevision): DecidableRemedy {
  switch (fault) {
    case "weak-cell":
    case "high-resistance-cell":
      return revision.cellsRepairable ? "repair" : "replace";
    case "high-resistance-joint":
    case "sense-wire":
    case "temperature-sensor":
    case "measurement-fault":
      return revision.potted ? "replace" : "repair";
    case "self-discharge":
    case "over-discharge":
    case "water-ingress":
      return "replace";
    case "power-stage-fault":
    case "main-lead":
      return "repair";
    case "imbalance":
      return "remote-fix";
    case "outside-cause":
    case "no-fault-found":
      return "return-as-is";
    case "mechanical-damage":
    case "acute-event":
      return "isolate";
  }
}

/** Whether the finding means that the pack itself failed. */
export function isFailure(fault: ConfirmedFault): boolean {
  return (
    fault !== "no-fault-found" && fault !== "outside-cause" && fault !== "mechanical-damage" && fault !== "unknown"
  );
}

const reasons: Readonly<Record<Fault, string>> = {
  "weak-cell": "Two-rest test: one group holds far less than the others and ends every ride.",
  "high-resistance-cell": "One group sags under load in step with the current; link measured and found sound.",
  "high-resistance-joint":
    "Resistance of one group jumps when the pack is shaken; four-wire reading puts it on the link.",
  "self-discharge": "Seven days at rest with the balancing leads off: one group went on falling.",
  "sense-wire": "Neighbouring groups read too high and too low by the same amount; lead wiggled and confirmed.",
  "measurement-fault": "Hand meter and board disagree over a whole block of groups; board exchanged for a trial.",
  "power-stage-fault": "Switch board does not do what it is told; tested on the bench without the cells.",
  imbalance: "Charge level differs between groups, capacity and resistance are in order. Balanced under supervision.",
  "over-discharge": "Groups were found below 2 V after standing; not charged again.",
  "temperature-sensor": "One probe reads a fixed value; resistance at the connector confirms it.",
  "water-ingress": "Corrosion at the lowest groups and low insulation after opening.",
  "main-lead": "Voltage lost outside the cells grows with the current; lug found loose.",
  "outside-cause": "The pack is in order; it was charged outside its limits. Explained to the dealer.",
  "no-fault-found": "Customer's conditions tried for two days, all limits of the build test met again.",
  "mechanical-damage": "Case broken from outside; the cells were not tested further.",
  "acute-event": "Groups collapsed at rest with heat. Kept under watch outdoors, no transport.",
};

export function decisionReason(fault: ConfirmedFault): string {
  return fault === "unknown"
    ? "The fault did not show again in two days of tests, yet the readings are not clean."
    : reasons[fault];
}
