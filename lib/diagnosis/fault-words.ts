import type { Fault, Remedy, SafetyClass } from "./finding";

/** What each fault is called on screen, in the words of the bench. */
export const faultWords: Readonly<Record<Fault, string>> = {
  "weak-cell": "Weak cell group",
  "high-resistance-cell": "Cell group with high resistance",
  "high-resistance-joint": "Weld or link with high resistance",
  "self-discharge": "Cell group that loses charge by itself",
  "sense-wire": "Loose or broken sense wire",
  "measurement-fault": "Monitoring board measures wrongly",
  "power-stage-fault": "Switch, pre-charge or fuse fault",
  imbalance: "Groups out of balance",
  "over-discharge": "Discharged too deeply",
  "temperature-sensor": "Temperature sensor fault",
  "water-ingress": "Water inside",
  "main-lead": "Main lead or connector fault",
  "outside-cause": "Cause outside the pack",
  "no-fault-found": "No fault found in these readings",
  "mechanical-damage": "Damaged, swollen or leaking",
  "acute-event": "Dangerous event in the readings",
};

/** What the readings suggest, as a sentence. It is a suggestion: a person decides. */
const remedyWords: Readonly<Record<Remedy, string>> = {
  "remote-fix": "It can probably be put right at the dealer's, without sending the pack.",
  repair: "The pack can probably be repaired.",
  replace: "The pack will probably have to be replaced.",
  isolate: "Set the pack apart from everything else until service has looked at it.",
  "return-as-is": "The readings give no reason to keep the pack from its owner.",
  "cannot-tell": "The readings cannot tell yet what is to be done.",
};

/**
 * How the pack is to be handled going by the readings alone. Worded as a proposal throughout, because a named person
 * declares the class; nothing here says that an event was minor or need not be reported.
 */
const safetyClassWords: Readonly<Record<SafetyClass, string>> = {
  A0: "Danger now: keep away from the pack, nobody handles it.",
  A1: "Critical: set apart, in quarantine where it is at the works. It is not sent until service has arranged special packaging.",
  B: "Treated as damaged or defective: it moves only in the packaging that service names.",
  U: "Cannot be judged yet: treated as damaged until it can.",
  C: "Going by these readings it does not count as damaged or defective for handling. It still waits for service before it is sent.",
};

// Stored findings carry plain text, possibly written by an older release; a word nobody knows any more is shown as it is.

export function sayFault(fault: string): string {
  return wordFor(faultWords, fault);
}

export function sayRemedy(remedy: string): string {
  return wordFor(remedyWords, remedy);
}

export function saySafetyClass(safetyClass: string): string {
  return wordFor(safetyClassWords, safetyClass);
}

function wordFor(words: Readonly<Record<string, string>>, key: string): string {
  return Object.hasOwn(words, key) ? (words[key] ?? key) : key.replaceAll("-", " ");
}
