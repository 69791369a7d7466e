import type { Condition } from "@/lib/returns/conditions";
import type { DangerSign } from "@/lib/returns/danger-signs";
import { HOUR_MS } from "@/lib/warranty/clock-spans";
import type { BoxCondition, HandSign } from "./arrival.schema";

/** Hours of watching that every pack gets. reference/diagnostics.md 3.6, marked [D]: an engineering default, no authority. */
export const LEAST_WATCH_HOURS = 24;

/** After immersion or impact, from the same place and with the same mark [D]. */
const WATCH_HOURS_AFTER_IMPACT_OR_WATER = 72;

/** What the dealer told with the return and what goods-in saw with the pack in hand. */
export interface WatchSigns {
  readonly dangerSigns: readonly string[];
  readonly conditions: readonly string[];
  readonly handSigns: readonly string[];
  /** How its box looked when it came in; null while it has not. */
  readonly boxCondition: string | null;
  /** A danger of it was told in words besides: whether it fell or lay in water no program reads out of them. */
  readonly wasToldSince: boolean;
}

const impactOrWater: {
  readonly told: readonly DangerSign[];
  readonly conditions: readonly Condition[];
  readonly seen: readonly HandSign[];
  readonly boxes: readonly BoxCondition[];
} = {
  told: ["impact-or-water"],
  conditions: ["after-crash-or-drop"],
  seen: ["case-broken", "wet-inside"],
  boxes: ["damaged", "wet"],
};

/** How long a pack is watched before it leaves quarantine. */
export function neededWatchHours({
  dangerSigns,
  conditions,
  handSigns,
  boxCondition,
  wasToldSince,
}: WatchSigns): number {
  const isHit =
    wasToldSince ||
    impactOrWater.boxes.some((box) => box === boxCondition) ||
    impactOrWater.told.some((sign) => dangerSigns.includes(sign)) ||
    impactOrWater.conditions.some((condition) => conditions.includes(condition)) ||
    impactOrWater.seen.some((sign) => handSigns.includes(sign));
  return isHit ? WATCH_HOURS_AFTER_IMPACT_OR_WATER : LEAST_WATCH_HOURS;
}

/** Hours after arrival at which the pack is measured: at 0, 1 and 24, and at the end. Common practice, no source. */
export function measuringHours(neededHours: number): readonly number[] {
  return [...new Set([0, 1, LEAST_WATCH_HOURS, neededHours])];
}

/** That a stay is not over yet, and about how long it still is; null where it is over. */
export function whyTooEarly(since: Date, staysHours: number, now: Date): string | null {
  const left = Math.ceil(staysHours - (now.getTime() - since.getTime()) / HOUR_MS);
  if (left <= 0) return null;
  return `It stays at least ${staysHours} hours; ${left === 1 ? "about an hour is" : `about ${left} hours are`} left.`;
}

/** Said of whatever has a flag, before anything else is asked. */
export const setApartFirst = "It is set apart. The safety officer looks at it and lowers the flag first.";
