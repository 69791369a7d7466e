import type { PackModel } from "@/lib/packs/pack-model";
import { openCircuitCurve } from "./open-circuit-curve";
import type { SimulatedFault } from "./simulated-fault";

/** What is done with the pack, one phase after another. `everyS` is the monitor's logging interval in that phase. */
export type UsagePhase =
  | { readonly kind: "rest"; readonly seconds: number; readonly everyS: number }
  | {
      readonly kind: "ride";
      readonly seconds: number;
      readonly everyS: number;
      /** The rider stops here even if time is left, fraction of charge. */
      readonly stopAtSoc: number;
    }
  | {
      readonly kind: "charge";
      readonly rateC: number;
      readonly maxSeconds: number;
      readonly everyS: number;
      /** A charger that is not the maker's may stand this much higher than it should, V on the whole pack. */
      readonly excessV: number;
      readonly stopAtSoc: number;
    };

export interface UsageScript {
  readonly startSoc: number;
  readonly ambientC: number;
  readonly phases: readonly UsagePhase[];
}

const hourS = 3600;

/** The use that a pack with this fault saw while its monitor logged: the story a dealer would tell about it. */
export function usageScript(model: PackModel, fault: SimulatedFault, seasonC: number): UsageScript {
  const chargeRateC = (0.9 * model.chargeMaxA) / model.ratedCapacityAh;
  const charge = {
    kind: "charge",
    rateC: chargeRateC,
    maxSeconds: 5 * hourS,
    everyS: 12,
    excessV: 0,
    stopAtSoc: 2,
  } as const;
  const ride = { kind: "ride", seconds: 1500, everyS: 1, stopAtSoc: 0.14 } as const;
  const rest = { kind: "rest", seconds: 2.6 * hourS, everyS: 60 } as const;

  switch (fault.fault) {
    case "self-discharge":
    case "water-ingress":
      // Two and a half days parked after a short ride: at half charge, but low where half charge shows nothing.
      return {
        startSoc: isFlat(model) ? 0.28 : 0.66,
        ambientC: seasonC,
        phases: [
          { ...ride, seconds: 420, stopAtSoc: isFlat(model) ? 0.15 : 0.5 },
          { ...rest, seconds: 58 * hourS },
        ],
      };
    case "over-discharge":
      return {
        startSoc: 0.012,
        ambientC: seasonC,
        phases: [
          { ...rest, seconds: 40 * hourS },
          { ...charge, rateC: 0.04, maxSeconds: 900 },
          { ...rest, seconds: 2 * hourS },
        ],
      };
    case "acute-event":
      return {
        startSoc: 0.82,
        ambientC: seasonC,
        phases: [
          { ...ride, seconds: 500, stopAtSoc: 0.4 },
          { ...rest, seconds: 3 * hourS },
          { ...rest, seconds: 900, everyS: 10 },
        ],
      };
    case "power-stage-fault":
      return {
        startSoc: 0.9,
        ambientC: seasonC,
        phases: [
          rest,
          ride,
          rest,
          { ...charge, stopAtSoc: fault.severity === "slight" ? 2 : 0.6 },
          { ...rest, seconds: 3 * hourS },
        ],
      };
    case "outside-cause":
      return fault.severity === "slight"
        ? {
            // Charged in the frost: nothing is broken, the pack was used outside its window.
            startSoc: 0.85,
            ambientC: -7,
            phases: [
              rest,
              { ...ride, seconds: 700 },
              rest,
              { ...charge, rateC: 0.6 * chargeRateC, maxSeconds: 2 * hourS },
              rest,
            ],
          }
        : {
            startSoc: 0.88,
            ambientC: seasonC,
            phases: [
              rest,
              { ...ride, seconds: 1100 },
              rest,
              { ...charge, rateC: 1.35 * chargeRateC, excessV: 0.9 },
              rest,
            ],
          };
    case "weak-cell":
      // Down to where the weakest group ends the ride, then filled again.
      return {
        startSoc: 0.97,
        ambientC: seasonC,
        phases: [rest, { ...ride, seconds: 2200, stopAtSoc: 0.06 }, rest, charge, rest],
      };
    default:
      return { startSoc: 0.95, ambientC: seasonC, phases: [rest, ride, rest, charge, rest] };
  }
}

/** Whether the rest voltage hardly moves in the middle: below 2 mV a percent between 40 and 60 %. */
function isFlat(model: PackModel): boolean {
  const curve = openCircuitCurve(model);
  return curve(0.6) - curve(0.4) < 0.04;
}
