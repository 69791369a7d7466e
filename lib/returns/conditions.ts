/** When it happens. Several may apply; none chosen means nobody knows. */
export const conditions = [
  "while-charging",
  "at-full-power",
  "when-cold",
  "when-hot",
  "in-the-wet",
  "after-storage",
  "after-crash-or-drop",
  "after-washing",
  "after-a-change-to-the-vehicle",
  "now-and-then",
  "always",
] as const;
export type Condition = (typeof conditions)[number];

export const conditionLabels: Readonly<Record<Condition, string>> = {
  "while-charging": "While charging",
  "at-full-power": "At full power",
  "when-cold": "When it is cold",
  "when-hot": "When it is hot",
  "in-the-wet": "In rain or wet",
  "after-storage": "After standing for weeks",
  "after-crash-or-drop": "After a crash or a drop",
  "after-washing": "After washing",
  "after-a-change-to-the-vehicle": "Since something on the vehicle or the charger was changed",
  "now-and-then": "Now and then, without a pattern",
  always: "Always",
};
