import type { ReturnStatus } from "./return-status";

/** What is missing before a remedy can be decided, and who has to act; null where the return is past that. */
const missing: Readonly<Record<ReturnStatus, string | null>> = {
  draft: "It is not sent in yet: the dealer finishes and sends it.",
  "sent-in": "Nobody has taken it yet: somebody of service takes it.",
  "more-information-needed": "A question is open: the dealer answers it.",
  "in-review":
    "It is in review: service has the pack sent in, or proposes a decision on the log and the photographs alone.",
  "remote-help": "Help from a distance is under way: the dealer says whether it works again.",
  "return-approved": "The pack may be sent: the dealer packs it as told and hands it to the carrier.",
  "return-expected": "The pack is on its way: goods-in receives it.",
  "at-the-works": "The pack is here: when its quarantine is over a technician starts the tests.",
  "under-test":
    "The pack is under test: a technician makes every mandatory test, or says why one is left out, codes the fault and proposes a decision.",
  "decision-proposed":
    "A decision is proposed: the service lead approves it or sends it back; where the lead proposed it, a manager does. A refusal, goodwill and a high refund need a second person.",
  decided: null,
  "work-in-progress": null,
  "ready-to-hand-back": null,
  "handed-back": null,
  closed: null,
  "solved-remotely": "It was solved from a distance.",
  withdrawn: "It was withdrawn, so nothing is decided.",
  lapsed: "It lapsed, so nothing is decided.",
  merged: "It was joined with another return: what is decided stands there.",
};

export function whatIsMissingBeforeDecision(status: ReturnStatus): string | null {
  return missing[status];
}
