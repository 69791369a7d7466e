/** Where a return stands: the one question "what is decided next, and by whom". Where the pack is and what is owed are other tracks. */
export const returnStatuses = [
  "draft",
  "sent-in",
  "more-information-needed",
  "in-review",
  "remote-help",
  "return-approved",
  "return-expected",
  "at-the-works",
  "under-test",
  "decision-proposed",
  "decided",
  "work-in-progress",
  "ready-to-hand-back",
  "handed-back",
  "closed",
  "solved-remotely",
  "withdrawn",
  "lapsed",
  "merged",
] as const;
export type ReturnStatus = (typeof returnStatuses)[number];

/** Ended for good or until somebody reopens it; all others but the draft are open. */
export const endedStatuses = ["closed", "solved-remotely", "withdrawn", "lapsed", "merged"] as const;

export const openStatuses: readonly ReturnStatus[] = returnStatuses.filter(
  (status) => status !== "draft" && !endedStatuses.some((ended) => ended === status),
);

export function isOpenStatus(stored: string): boolean {
  return openStatuses.some((status) => status === stored);
}

/**
 * While a return stands at one of these no other may be lodged for its pack (unique index in the migrations). A pack
 * that was handed back is with its customer again: what shows then is a new complaint.
 */
export const packInHandStatuses: readonly ReturnStatus[] = openStatuses.filter((status) => status !== "handed-back");

/** Nothing was decided yet and nothing ended it. */
export const undecidedStatuses: readonly ReturnStatus[] = openStatuses.slice(0, openStatuses.indexOf("decided"));

/** While a return stands at one of these its last decision holds; under an objection, or proposed anew, it does not. */
export const decidedStatuses: readonly ReturnStatus[] = [
  "decided",
  "work-in-progress",
  "ready-to-hand-back",
  "handed-back",
  "closed",
  "solved-remotely",
];

export function decisionStands(status: ReturnStatus): boolean {
  return decidedStatuses.includes(status);
}

const statusWords: Readonly<Record<ReturnStatus, string>> = {
  draft: "Not sent yet",
  "sent-in": "Sent in",
  "more-information-needed": "Question to the dealer",
  "in-review": "Being looked at",
  "remote-help": "Help from a distance",
  "return-approved": "May be sent",
  "return-expected": "On its way to the maker",
  "at-the-works": "At the works",
  "under-test": "On the bench",
  "decision-proposed": "Decision proposed",
  decided: "Decided",
  "work-in-progress": "Being worked on",
  "ready-to-hand-back": "Ready to hand back",
  "handed-back": "Handed back",
  closed: "Closed",
  "solved-remotely": "Solved from a distance",
  withdrawn: "Withdrawn",
  lapsed: "Lapsed",
  merged: "Joined with another return",
};

export function readReturnStatus(stored: string): ReturnStatus {
  const status = returnStatuses.find((known) => known === stored);
  if (status === undefined) throw new RangeError(`status: ${stored} is none of the statuses of a return`);
  return status;
}

/** With a disposal or a refund nothing is handed back, whatever the status is called otherwise. */
const wordsWithoutHandingBack: Readonly<Partial<Record<ReturnStatus, Readonly<Record<string, string>>>>> = {
  "ready-to-hand-back": { dispose: "Disposed of, to be confirmed", refund: "Refund agreed, to be confirmed" },
  "handed-back": { dispose: "Disposal confirmed", refund: "Refund confirmed" },
};

/** The status in words; on a return that is decided give the remedy, because not every remedy gives something back. */
export function returnStatusWords(stored: string, remedy: string | null = null): string {
  const status = readReturnStatus(stored);
  return wordsWithoutHandingBack[status]?.[remedy ?? ""] ?? statusWords[status];
}

/**
 * Whether the pack was judged and given back to use, or nothing more happens with the return: a warning not to touch it
 * would contradict that. A return that is looked at anew is not, whatever was decided before.
 */
export function isBackInUse(stored: string, remedy: string | null): boolean {
  const status = readReturnStatus(stored);
  if (status === "lapsed" || undecidedStatuses.includes(status)) return false;
  return (
    !openStatuses.includes(status) || status === "handed-back" || remedy === "return-as-is" || remedy === "remote-fix"
  );
}

/** Statuses at which the pack lies at the dealer's and somebody may still want to send it. */
export const mayStillBeSent: readonly ReturnStatus[] = [
  "sent-in",
  "more-information-needed",
  "in-review",
  "remote-help",
  "return-approved",
  "decided",
];
