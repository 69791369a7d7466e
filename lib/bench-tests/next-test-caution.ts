import { type Fault, faults } from "@/lib/diagnosis/finding";
import { LIVE, LOADED } from "./draft-parts";

/** How the test after each finding touches the pack: it only looks, it works on a live pack, or it puts current through it. */
const touch: Readonly<Record<Fault, "look" | "live" | "loaded">> = {
  "weak-cell": "loaded",
  "high-resistance-cell": "loaded",
  "high-resistance-joint": "loaded",
  "self-discharge": "live",
  "sense-wire": "live",
  "measurement-fault": "live",
  "power-stage-fault": "loaded",
  imbalance: "loaded",
  "over-discharge": "loaded",
  "temperature-sensor": "live",
  "water-ingress": "live",
  "main-lead": "loaded",
  "outside-cause": "loaded",
  "no-fault-found": "loaded",
  "mechanical-damage": "look",
  "acute-event": "look",
};

/**
 * The caution that belongs before the next test of a finding, whatever its class: a pack classed as sound is as live as
 * any. Null where the test only looks. A fault of a release nobody knows any more gets the stricter one.
 */
export function nextTestCaution(storedFault: string): string | null {
  const fault = faults.find((known) => known === storedFault);
  const how = fault === undefined ? "loaded" : touch[fault];
  if (how === "look") return null;
  return how === "live" ? LIVE : LOADED;
}
