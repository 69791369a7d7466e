import type { ColumnChoice } from "@/lib/readings/column-choice.schema";

/** What a column may be, in the words a person chooses from. */
export const quantityLabels: Readonly<Record<ColumnChoice["quantity"], string>> = {
  ignore: "Leave this column out",
  "time-of-some-kind": "Time, or date and time",
  "test-time": "Time since the start",
  "unix-time": "Time counted from 1970",
  date: "Date alone",
  "pack-voltage": "Voltage of the pack",
  current: "Current",
  "charge-current": "Current while charging alone",
  "discharge-current": "Current while the pack is being used alone",
  "cell-voltage": "Voltage of a cell group",
  temperature: "Temperature in the pack",
  "ambient-temperature": "Temperature of the surroundings",
  "mosfet-temperature": "Temperature of the power stage",
  "state-of-charge": "State of charge",
  "cycle-count": "Count of cycles",
  "net-capacity": "Charge counted by the pack",
  "charge-switch": "Charging switched on",
  "discharge-switch": "Discharging switched on",
  "balancing-mask": "Groups being balanced (bits)",
  "protection-flags": "Protection flags of the open list (bits)",
  "other-flags": "Protection flags of the maker's own list (bits)",
  "protection-bit": "One protection flag",
  insulation: "Insulation resistance",
  serial: "Serial of the pack",
};

export const signLabels = {
  "charge-positive": "Positive while charging",
  "discharge-positive": "Positive while the pack is being used",
} as const;

export const dayOrderLabels = {
  "day-first": "The day comes first",
  "month-first": "The month comes first",
} as const;
