import type { PackModel } from "@/lib/packs/pack-model";
import type { Monitor } from "./monitor";

// Bits of SunSpec model 802 `Evt1` (Apache-2.0, github.com/sunspec/models, model_802.json).
const overTemperature = 1 << 1;
const underTemperature = 1 << 3;
const overChargeCurrent = 1 << 5;
const overDischargeCurrent = 1 << 7;
const overVoltage = 1 << 9;
const underVoltage = 1 << 11;
const imbalance = 1 << 17;
const contactor = 1 << 20;

/** Margins of the simulated board around the model's limits: engineering defaults. */
const overVoltageMarginV = 0.02;
const overVoltageReleaseV = 0.06;
const underVoltageMarginV = 0.05;
const underVoltageReleaseV = 0.35;
const imbalanceV = 0.3;
const hotC = 65;
const balanceBelowFullV = 0.12;
const balanceStartsAtV = 0.006;
const bleedCurrentA = 0.09;

/** What the board does after each reading: flags, switches and balancing, all from what it read and not from what is. */
export function protectPack(
  monitor: Monitor,
  model: PackModel,
  temperaturesC: readonly number[],
  currentA: number,
): void {
  let lowestV = Number.POSITIVE_INFINITY;
  let highestV = Number.NEGATIVE_INFINITY;
  for (const volt of monitor.cellV) {
    lowestV = Math.min(lowestV, volt);
    highestV = Math.max(highestV, volt);
  }
  switchForVoltage(monitor, model, lowestV, highestV);

  const warmestC = Math.max(...temperaturesC);
  const coldestC = Math.min(...temperaturesC);
  const charging = currentA > 0.02 * model.ratedCapacityAh;
  let flags = monitor.flags & (overVoltage | underVoltage);
  flags |= warmestC > hotC || (charging && warmestC > model.chargeMaxTemperatureC + 10) ? overTemperature : 0;
  flags |= coldestC < -30 || (charging && coldestC < model.chargeMinTemperatureC) ? underTemperature : 0;
  flags |= currentA > 1.05 * model.chargeMaxA ? overChargeCurrent : 0;
  flags |= -currentA > 1.05 * model.peakDischargeA ? overDischargeCurrent : 0;
  flags |= Math.abs(currentA) < 1 && highestV - lowestV > imbalanceV ? imbalance : 0;
  flags |= !monitor.dischargeOn && currentA < -0.5 ? contactor : 0;
  monitor.flags = flags;
  if ((flags & (overTemperature | underTemperature)) !== 0 && monitor.plan.protectsCharging) {
    monitor.chargeOn = false;
  }
  balance(monitor, model, lowestV, currentA);
}

function switchForVoltage(monitor: Monitor, model: PackModel, lowestV: number, highestV: number): void {
  if (highestV > model.cellMaxV + overVoltageMarginV && monitor.plan.protectsCharging) {
    monitor.chargeOn = false;
    monitor.flags |= overVoltage;
  } else if (highestV > model.cellMaxV + overVoltageMarginV) {
    monitor.flags |= overVoltage;
  } else if (highestV < model.cellMaxV - overVoltageReleaseV) {
    monitor.chargeOn = true;
    monitor.flags &= ~overVoltage;
  }
  if (lowestV < model.cellMinV - underVoltageMarginV) {
    monitor.dischargeOn = false;
    monitor.flags |= underVoltage;
  } else if (lowestV > model.cellMinV + underVoltageReleaseV) {
    monitor.dischargeOn = true;
    monitor.flags &= ~underVoltage;
  }
  if (monitor.lockedOff) {
    monitor.dischargeOn = false;
  }
}

/** Bleeds the groups that stand above the lowest while the charge nears its end. */
function balance(monitor: Monitor, model: PackModel, lowestV: number, currentA: number): void {
  const charging = currentA > 0.02 * model.ratedCapacityAh;
  for (let k = 0; k < monitor.cellV.length; k++) {
    const volt = monitor.cellV[k] ?? 0;
    const high = volt > model.cellMaxV - balanceBelowFullV && volt > lowestV + balanceStartsAtV;
    monitor.balancing[k] = monitor.plan.balancerWorks && charging && high;
    monitor.bleedA[k] = monitor.balancing[k] ? bleedCurrentA : 0;
  }
}
