import { type Fault, isGrave, type Remedy } from "@/lib/diagnosis/finding";
import { readStoredFinding, type StoredWords } from "@/lib/diagnosis/stored-finding";

/** What each fault means for somebody who is no technician. No numbers, no instruction. */
const plainMeaning: Readonly<Record<Fault, string>> = {
  "weak-cell": "One part of the pack holds less energy than the rest, so the whole pack is empty sooner.",
  "high-resistance-cell":
    "One part of the pack loses voltage under load, so the pack gives up early when it works hard.",
  "high-resistance-joint": "A connection inside the pack seems to conduct badly.",
  "self-discharge": "One part of the pack loses its charge while it stands.",
  "sense-wire": "A measuring wire inside the pack seems loose. Its protection does not see two groups rightly.",
  "measurement-fault":
    "The board that watches the cells seems to measure wrongly, so its protection cannot be relied on.",
  "power-stage-fault": "The pack's own switch does not do what it is told.",
  imbalance: "The parts of the pack are charged unequally. That can usually be put right.",
  "over-discharge": "The pack was emptied further than its cells bear.",
  "temperature-sensor":
    "A temperature sensor reads wrongly, so the pack's protection against heat cannot be relied on.",
  "water-ingress": "The readings look as if water had got in.",
  "main-lead": "The fault seems to lie in a lead or plug of the pack.",
  "outside-cause": "The cause seems to lie in how or with what the pack was used. Service says whether it took harm.",
  "no-fault-found": "The readings show nothing wrong in what they could show; service says what they could not.",
  "mechanical-damage": "The pack is damaged.",
  "acute-event": "The readings hold a dangerous event.",
};

/** What is done about it at once. No instruction to open or test anything. */
const plainCare: Readonly<Partial<Record<Fault, string>>> = {
  "self-discharge": "It must not be charged to make up for it.",
  "sense-wire": "Do not charge it.",
  "over-discharge": "Do not charge it.",
  "water-ingress": "Do not charge it and do not try to dry it.",
  "acute-event": "Keep away from the pack.",
};

/** What a finding means at the counter: heat or use that may have harmed the cells leaves no sound pack, and blames nobody. */
export function plainMeaningOf({ fault, safetyClass }: PlainlyTold): string {
  return fault === "outside-cause" && safetyClass !== "C"
    ? "The readings show heat, charging or load that may have harmed the pack, so it does not count as sound."
    : plainMeaning[fault];
}

/** The same with what is done about it at once. */
export function plainFaultOf(found: PlainlyTold): string {
  const care = plainCare[found.fault];
  return care === undefined ? plainMeaningOf(found) : `${plainMeaningOf(found)} ${care}`;
}

interface PlainlyTold {
  readonly fault: Fault;
  readonly safetyClass: string;
}

/** A finding whose name this release does not know: what it means is gone, how it was classed is not. */
const plainUnnamed =
  "The readings hold a finding that an earlier version of this program named and this one cannot explain: do not charge it.";

/**
 * What everybody near the pack must know of its findings, likeliest first: the sentence of each that is not classed as
 * sound, however unlikely it is beside the others.
 */
export function plainCautions(stored: readonly StoredWords[]): string[] {
  const sentences = stored
    .map(readStoredFinding)
    .filter(({ safetyClass }) => safetyClass !== "C")
    .map((finding) => (finding.isKnownFault || isGrave(finding.safetyClass) ? plainFaultOf(finding) : plainUnnamed));
  return [...new Set(sentences)];
}

/** What is done with a pack that is dangerous by its readings, for everybody near it. */
export const plainIsolation = {
  acute: "Keep everybody away from the pack and call the emergency services if it warms, smokes or swells.",
  critical: "Set it apart from everything else. Do not charge it, use it or send it.",
} as const;

/** What a remedy comes to, in one sentence for the counter. */
export const plainRemedy: Readonly<Record<Remedy, string>> = {
  "remote-fix": "Service tells you how; the pack probably need not travel.",
  repair: "Service decides whether it is repaired; do not open the pack.",
  replace: "Service decides whether it is replaced; promise nothing before that.",
  isolate: "Nobody moves, charges or opens it until service has said what to do.",
  "return-as-is": "Service decides; until then keep the pack.",
  "cannot-tell": "A pack that cannot be judged is treated as damaged until a test says otherwise.",
};
