import type { Dimension } from "@/lib/readings/column-unit";

/** What a column can mean to us. Everything else in a file is left aside and named in a remark. */
export type Quantity =
  | "test-time"
  | "unix-time"
  | "time-of-some-kind"
  | "date"
  | "pack-voltage"
  | "current"
  /** One direction of the current in a column of its own; both are joined to one current. */
  | "charge-current"
  | "discharge-current"
  | "cell-voltage"
  | "temperature"
  | "ambient-temperature"
  | "mosfet-temperature"
  | "state-of-charge"
  | "cycle-count"
  | "net-capacity"
  | "charge-switch"
  | "discharge-switch"
  | "balancing-mask"
  | "protection-flags"
  /** Flags whose bits follow a list of the monitor's own maker. */
  | "other-flags"
  | "protection-bit"
  | "insulation"
  | "serial";

/** Dimensions a stated unit may have; a header whose unit does not fit its name is not taken. */
export const dimensionsOf: Readonly<Record<Quantity, readonly Dimension[]>> = {
  "test-time": ["time"],
  "unix-time": ["time"],
  "time-of-some-kind": ["time"],
  date: [],
  "pack-voltage": ["voltage"],
  current: ["current"],
  "charge-current": ["current"],
  "discharge-current": ["current"],
  "cell-voltage": ["voltage"],
  temperature: ["temperature"],
  "ambient-temperature": ["temperature"],
  "mosfet-temperature": ["temperature"],
  "state-of-charge": ["share", "count"],
  "cycle-count": ["count"],
  "net-capacity": ["charge"],
  "charge-switch": ["count"],
  "discharge-switch": ["count"],
  "balancing-mask": ["count"],
  "protection-flags": ["count"],
  "other-flags": ["count"],
  "protection-bit": ["count"],
  insulation: ["resistance"],
  serial: [],
};

/** Highest series group that is believed: the largest traction packs stay below it (engineering default, no authority). */
export const HIGHEST_GROUP = 400;

/** Every quantity, in the order in which a person may choose from them. */
export const quantityNames = [
  "time-of-some-kind",
  "test-time",
  "unix-time",
  "date",
  "pack-voltage",
  "current",
  "charge-current",
  "discharge-current",
  "cell-voltage",
  "temperature",
  "ambient-temperature",
  "mosfet-temperature",
  "state-of-charge",
  "cycle-count",
  "net-capacity",
  "charge-switch",
  "discharge-switch",
  "balancing-mask",
  "protection-flags",
  "other-flags",
  "protection-bit",
  "insulation",
  "serial",
] as const satisfies readonly Quantity[];
