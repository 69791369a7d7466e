import type { TestPhase } from "./test-definition.schema";

/**
 * What has to be tried before anybody may say that no fault was found. Steps: common practice of the trade, after the
 * process the VDA volume on field failure analysis asks for (from memory: verify there).
 */
export const noFaultSteps = [
  "as-customer",
  "full-load",
  "shaken",
  "warm-and-cold",
  "ask-dealer",
  "second-technician",
] as const;
export type NoFaultStep = (typeof noFaultSteps)[number];

export interface NoFaultStepWords {
  readonly title: string;
  readonly method: string;
  /** What a test like it asks of the pack; null for a step that needs no hand on it. */
  readonly phase: TestPhase | null;
  /** Said where the hand is about to act. Common practice in handling lithium packs, no single source. */
  readonly caution: string | null;
}

export const noFaultStepWords: Readonly<Record<NoFaultStep, NoFaultStepWords>> = {
  "as-customer": {
    title: "Repeated as the customer had it",
    method: "The same charge, load and conditions as in the customer's words; note what was different.",
    phase: "under-load",
    caution:
      "Stay within the limits of the pack even where the customer did not. Watch it all the while, with the way out free; stop at heat, smell, noise or swelling.",
  },
  "full-load": {
    title: "Under full load until warm",
    method: "Continuous current until the temperature stands still or the limit is reached, the log running.",
    phase: "under-load",
    caution:
      "Never above the temperature limit of the pack, and never unattended. Check leads and plugs for heat from the first minute; stop at smell, noise or swelling.",
  },
  shaken: {
    title: "Shaken",
    method: "On the shaker under small load, the log running; move every lead and plug by hand as well.",
    phase: "stress",
    caution:
      "A shaken pack can go short inside, and minutes later. Nobody beside it while it shakes; leads are moved by hand with the load off. Let it rest under watch afterwards.",
  },
  "warm-and-cold": {
    title: "Warm and cold",
    method: "Once at the upper and once at the lower end of the range of use, with a short load at each.",
    phase: "stress",
    caution:
      "In a chamber made for it, with a guard on the temperature. A pack below the charging limit is not charged, and a cold one comes back to room warmth before anybody charges it.",
  },
  "ask-dealer": {
    title: "The dealer asked about charger, controller and wiring",
    method: "Which charger, which controller, how it is wired, whether the complaint stayed with the vehicle.",
    phase: null,
    caution: null,
  },
  "second-technician": {
    title: "A second technician, from the start",
    method: "Somebody who has made none of the tests of this return looks at it without the first one's notes.",
    phase: "at-rest",
    caution:
      "Looks for heat, smell, swelling and leaks before connecting anything; live parts stay live with the pack switched off.",
  },
};

export const noFaultOutcomes = ["shown", "not-shown", "not-possible"] as const;
export type NoFaultOutcome = (typeof noFaultOutcomes)[number];

export const noFaultOutcomeWords: Readonly<Record<NoFaultOutcome, string>> = {
  shown: "The complaint showed",
  "not-shown": "Nothing showed",
  "not-possible": "Could not be done",
};

export interface NoFaultEntry {
  readonly kind: "started" | "waived" | "step";
  readonly step: NoFaultStep | null;
  readonly outcome: NoFaultOutcome | null;
  readonly byUserId: string;
}

export type NoFaultStanding =
  | { readonly kind: "not-started" }
  | { readonly kind: "open"; readonly missing: readonly NoFaultStep[] }
  /** Something showed in a step: then the finding is coded, and "no fault found" is not so. */
  | { readonly kind: "showed"; readonly steps: readonly NoFaultStep[] }
  | { readonly kind: "done" }
  | { readonly kind: "waived" };

/**
 * Where the protocol stands, from its entries in the order they were written. Of several entries of one step the last
 * counts, but that the complaint showed is taken back only by somebody else to whom nothing showed, not by who could not do the
 * step, and outweighs a waiver: nobody waives what was seen.
 * A step that could not be done was not done: it stays open until it is, or until the lead leaves the protocol out.
 */
export function noFaultStanding(entries: readonly NoFaultEntry[]): NoFaultStanding {
  const last = new Map<NoFaultStep, { readonly outcome: NoFaultOutcome; readonly byUserId: string }>();
  for (const { step, outcome, byUserId } of entries) {
    if (step === null || outcome === null) continue;
    const before = last.get(step);
    if (before?.outcome === "shown" && (before.byUserId === byUserId || outcome === "not-possible")) continue;
    last.set(step, { outcome, byUserId });
  }
  const showed = noFaultSteps.filter((step) => last.get(step)?.outcome === "shown");
  if (showed.length > 0) return { kind: "showed", steps: showed };
  if (entries.some(({ kind }) => kind === "waived")) return { kind: "waived" };
  if (entries.length === 0) return { kind: "not-started" };
  const missing = noFaultSteps.filter((step) => last.get(step)?.outcome !== "not-shown");
  return missing.length === 0 ? { kind: "done" } : { kind: "open", missing };
}

export const noFaultRefusals = {
  "not-started": "Start the protocol first, with the reason.",
  "started-already": "The protocol was started already.",
  "not-second": "You tested this pack yourself or made another step: the second technician is somebody else.",
  "was-second": "You were the second technician for this return: its other steps are somebody else's.",
} as const;
export type NoFaultRefusal = keyof typeof noFaultRefusals;

/** Why this person may not record a step; null where it may. `testerIds` are those who recorded results of this return. */
export function whyNoStep(
  entries: readonly NoFaultEntry[],
  step: NoFaultStep,
  person: { readonly userId: string; readonly testerIds: readonly string[] },
): NoFaultRefusal | null {
  if (entries.length === 0) return "not-started";
  if (step !== "second-technician") {
    const wasSecond = entries.some((entry) => entry.step === "second-technician" && entry.byUserId === person.userId);
    return wasSecond ? "was-second" : null;
  }
  const others = entries.filter((entry) => entry.kind === "step" && entry.step !== "second-technician");
  const took = person.testerIds.includes(person.userId) || others.some(({ byUserId }) => byUserId === person.userId);
  return took ? "not-second" : null;
}
