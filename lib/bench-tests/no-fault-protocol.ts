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

export const noFaultStepWords: Readonly<Record<NoFaultStep, { readonly title: string; readonly method: string }>> = {
  "as-customer": {
    title: "Repeated as the customer had it",
    method: "The same charge, load and conditions as in the customer's words; note what was different.",
  },
  "full-load": {
    title: "Under full load until warm",
    method: "Continuous current until the temperature stands still or the limit is reached, the log running.",
  },
  shaken: {
    title: "Shaken",
    method: "On the shaker under small load, the log running; move every lead and plug by hand as well.",
  },
  "warm-and-cold": {
    title: "Warm and cold",
    method: "Once at the upper and once at the lower end of the range of use, with a short load at each.",
  },
  "ask-dealer": {
    title: "The dealer asked about charger, controller and wiring",
    method: "Which charger, which controller, how it is wired, whether the complaint stayed with the vehicle.",
  },
  "second-technician": {
    title: "A second technician, from the start",
    method: "Somebody who has made none of the tests of this return looks at it without the first one's notes.",
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
 * counts, but that the complaint showed is taken back by somebody else alone, and outweighs a waiver: nobody waives what was seen.
 * A step that could not be done was not done: it stays open until it is, or until the lead leaves the protocol out.
 */
export function noFaultStanding(entries: readonly NoFaultEntry[]): NoFaultStanding {
  const last = new Map<NoFaultStep, { readonly outcome: NoFaultOutcome; readonly byUserId: string }>();
  for (const { step, outcome, byUserId } of entries) {
    if (step === null || outcome === null) continue;
    const before = last.get(step);
    if (before?.outcome === "shown" && before.byUserId === byUserId) continue;
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
