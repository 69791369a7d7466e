import { z } from "zod";
import type { ConfirmedFault } from "@/lib/returns/decision.schema";
import { symptomLabels, symptoms } from "@/lib/returns/symptoms";
import { whereSound } from "@/lib/returns/where-sound";

/**
 * Four questions that are kept apart, so that none is answered by guessing another: what the customer saw, what was
 * found, the part or process at fault, the cause. The separation follows IEC 60812 and IEC 60300-3-2 (from memory: verify
 * in both); the lists are this house's own and short on purpose. "unknown" is an answer at every one of them.
 */
export const customerSawWords = { ...symptomLabels, unknown: "Unknown" } as const;
const customerSaw = [...symptoms, "unknown"] as const;

export const foundWords = {
  "low-capacity": "Holds less charge than it should",
  "voltage-breaks-down": "Voltage breaks down under load",
  "high-resistance": "A group or link has too much resistance",
  "groups-apart": "Groups stand apart at rest",
  "loses-charge": "A group loses charge by itself",
  "jumping-reading": "A reading jumps",
  "wrong-reading": "A reading is steadily wrong",
  "does-not-switch": "Does not switch on, or not off",
  "wrong-temperature": "A temperature is wrong",
  "hot-place": "A place gets hot",
  "poor-insulation": "Poor insulation",
  "water-or-corrosion": "Water or corrosion",
  "damaged-case": "Case, seam or connector damaged, or swollen",
  "emptied-too-far": "Emptied too far",
  "heat-or-gas-event": "Gave off heat, gas or smoke",
  "nothing-found": "Nothing was found in the pack",
  unknown: "Unknown",
} as const;
export type FoundCode = keyof typeof foundWords;

export const partWords = {
  cell: "A cell",
  "cell-joint": "A weld or link",
  "sense-wire": "A sense wire",
  "monitoring-board": "The monitoring board",
  "power-switch": "Switch, pre-charge or fuse",
  "temperature-probe": "A temperature probe",
  "main-lead": "Main lead or connector",
  "case-and-seal": "Case, seam or seal",
  potting: "The potting",
  settings: "Firmware or settings",
  matching: "Process: matching of the cells",
  joining: "Process: joining",
  "potting-process": "Process: potting and curing",
  charger: "Outside: the charger",
  vehicle: "Outside: controller or wiring of the vehicle",
  none: "None",
  unknown: "Unknown",
} as const;
export type PartCode = keyof typeof partWords;

export const causeWords = {
  design: "Design",
  "part-supplier": "Part as supplied",
  "our-work": "Work at the maker",
  "transport-or-storage": "Transport or storage",
  "use-outside-instructions": "Use outside the instructions",
  "other-equipment": "Other equipment",
  "age-and-use": "Age and use",
  "no-fault": "There is no fault",
  unknown: "Unknown",
} as const;
export type CauseCode = keyof typeof causeWords;

export const howSureWords = {
  shown: "Shown by a test",
  likely: "Likely, not shown",
  open: "Open",
} as const;
export type HowSure = keyof typeof howSureWords;

const outsideParts: readonly PartCode[] = ["charger", "vehicle", "settings"];
const nobodysParts: readonly PartCode[] = ["none", "unknown"];

const oneOf = <Code extends string>(words: Readonly<Record<Code, string>>, question: string) =>
  z.custom<Code>((value) => typeof value === "string" && Object.hasOwn(words, value), question);

/** MOST groups any model may have; the place is checked against the pack's own model where it is stored. */
const MOST_GROUPS = 400;

/** The coding of a return's fault as the form sends it. */
export const faultCodingSchema = z
  .object({
    customerSaw: z.enum(customerSaw, "Say what the customer saw; “unknown” is a fair answer."),
    found: oneOf<FoundCode>(foundWords, "Say what was found; “unknown” is a fair answer."),
    part: oneOf<PartCode>(partWords, "Name the part or process at fault; “unknown” is a fair answer."),
    cause: oneOf<CauseCode>(causeWords, "Name the cause; “unknown” is a fair answer."),
    groups: z
      .string()
      .trim()
      .default("")
      .transform((text) => (text === "" ? [] : text.split(/[\s,;]+/)))
      .pipe(
        z.array(
          z
            .string()
            .regex(/^[0-9]{1,3}$/, "Number the groups from 1 at the negative end, for example 7, 8.")
            .transform(Number)
            .pipe(z.number().min(1, "Groups are numbered from 1.").max(MOST_GROUPS)),
        ),
      )
      .transform((groups) => [...new Set(groups)].sort((a, b) => a - b)),
    howSure: oneOf<HowSure>(howSureWords, "Say how sure that is."),
    note: z.string().trim().max(1000, "At most 1000 characters.").default(""),
  })
  .refine(({ found, part }) => found !== "nothing-found" || [...outsideParts, ...nobodysParts].includes(part), {
    path: ["part"],
    when: whereSound("found", "part"),
    message: "Nothing was found, yet a part of the pack is named. One of the two is not so.",
  })
  .refine(({ cause, found }) => cause !== "no-fault" || found === "nothing-found", {
    path: ["cause"],
    when: whereSound("found", "cause"),
    message: "Something was found, so there is a cause, known or unknown.",
  })
  .refine(
    ({ howSure, found, part, cause }) => howSure !== "shown" || [found, part, cause].some((code) => code !== "unknown"),
    {
      path: ["howSure"],
      when: whereSound("howSure", "found", "part", "cause"),
      message: "All of it is unknown, so nothing was shown.",
    },
  );
export type FaultCoding = z.output<typeof faultCodingSchema>;
export type FaultCodingInput = z.input<typeof faultCodingSchema>;

/** What was found outranks the part where the finding is a class of its own. */
const classOfFinding: Readonly<Partial<Record<FoundCode, ConfirmedFault>>> = {
  "heat-or-gas-event": "acute-event",
  "damaged-case": "mechanical-damage",
  "water-or-corrosion": "water-ingress",
  "emptied-too-far": "over-discharge",
};

const classOfPart: Readonly<Partial<Record<PartCode, ConfirmedFault>>> = {
  "cell-joint": "high-resistance-joint",
  joining: "high-resistance-joint",
  "sense-wire": "sense-wire",
  "monitoring-board": "measurement-fault",
  "power-switch": "power-stage-fault",
  "temperature-probe": "temperature-sensor",
  "main-lead": "main-lead",
  charger: "outside-cause",
  vehicle: "outside-cause",
};

/** Causes that lie outside the pack, and those of the house or its suppliers. */
const outsideCauses: readonly CauseCode[] = ["use-outside-instructions", "other-equipment"];
const ownCauses: readonly CauseCode[] = ["design", "part-supplier", "our-work"];

/**
 * Firmware and settings are the monitoring board's: a fault of the house's own in them is one of the pack. Set wrongly by whoever used it,
 * or by other equipment, the cause lies outside; where nobody knows by whom, the class is not known either.
 */
function classOfSettings(cause: CauseCode): ConfirmedFault {
  if (outsideCauses.includes(cause)) return "outside-cause";
  return ownCauses.includes(cause) ? "measurement-fault" : "unknown";
}

const classOfCellFinding: Readonly<Partial<Record<FoundCode, ConfirmedFault>>> = {
  "low-capacity": "weak-cell",
  "voltage-breaks-down": "weak-cell",
  "high-resistance": "high-resistance-cell",
  "loses-charge": "self-discharge",
  "groups-apart": "imbalance",
};

/**
 * The one of the sixteen fault classes that the coding names, so that the two cannot contradict each other; "unknown"
 * where none is apt. Fault classes: table F1 to F16 (lib/diagnosis/finding.ts).
 */
export function faultOfCoding({ found, part, cause }: Pick<FaultCoding, "found" | "part" | "cause">): ConfirmedFault {
  const ofFinding = classOfFinding[found];
  if (ofFinding !== undefined) return ofFinding;
  if (part === "settings") return classOfSettings(cause);
  if (found === "nothing-found") return outsideParts.includes(part) ? "outside-cause" : "no-fault-found";
  const ofPart = classOfPart[part];
  if (ofPart !== undefined) return ofPart;
  const isCell = part === "cell" || part === "matching";
  if (isCell) return classOfCellFinding[found] ?? "unknown";
  // Groups may drift apart although every part of the pack is sound.
  return found === "groups-apart" && part === "none" ? "imbalance" : "unknown";
}
