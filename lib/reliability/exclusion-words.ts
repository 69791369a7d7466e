import type { ExclusionReason } from "./exposure";

/** Every reason for which a pack is not counted. */
export const exclusionReasons = [
  "unsold",
  "returned-without-sale-date",
  "return-before-sale",
  "not-yet-in-use",
  "observation-not-begun",
  "ended-before-observation",
  "serial-twice",
] as const satisfies readonly ExclusionReason[];

/** Why packs are not counted, for a reader who wonders where they went. */
export const exclusionWords: Readonly<Record<ExclusionReason, string>> = {
  unsold: "not sold yet, as far as is known: a pack on a shelf cannot fail in use",
  "returned-without-sale-date":
    "came back, but no sale of it is on record: a day proven with its return alone would count only packs that came back",
  "return-before-sale": "came back before the day of sale on record: one of the two dates is wrong",
  "not-yet-in-use": "sold on the data date or later",
  "observation-not-begun": "watched only from the data date or later",
  "ended-before-observation": "cover or use had ended before the pack was watched",
  "serial-twice": "recorded twice under one serial; the first record is counted",
};
