import { clopperPearsonLimits } from "@/lib/stats/binomial-limits";

/** Written criteria that start the protocol by share, count and pattern. The numbers are rules of this house, no source. */
const SHARE_THAT_STARTS = 0.2;
const LEAST_DECIDED_FOR_SHARE = 10;
export const SHARE_WINDOW_DAYS = 365;
const COUNT_THAT_STARTS = 3;
export const COUNT_WINDOW_DAYS = 90;

export interface NoFaultFacts {
  /** Every mandatory test that is no load test is done and inside, none outside or untold. */
  readonly standardTestsFoundNothing: boolean;
  /** Earlier returns of this pack that ended without a fault found. */
  readonly earlierOfThisPack: number;
  /** Decided returns of the revision within SHARE_WINDOW_DAYS. */
  readonly ofRevision: { readonly noFault: number; readonly decided: number };
  /** Without a fault found, same revision and same symptom, within COUNT_WINDOW_DAYS. */
  readonly sameComplaint: number;
}

export interface NoFaultTrigger {
  readonly kind: "nothing-found" | "came-back" | "share" | "count";
  /** Whole, with its counts and, for a share, its limits. */
  readonly sentence: string;
}

/** The criteria that are met now, each as a sentence; empty where none is. */
export function noFaultTriggers(facts: NoFaultFacts): NoFaultTrigger[] {
  const { standardTestsFoundNothing, earlierOfThisPack, ofRevision, sameComplaint } = facts;
  const { noFault, decided } = ofRevision;
  return [
    ...(standardTestsFoundNothing
      ? [
          {
            kind: "nothing-found",
            sentence: "The standard tests are done and every one of them is inside its limits.",
          } as const,
        ]
      : []),
    ...(earlierOfThisPack > 0
      ? [
          {
            kind: "came-back",
            sentence: `This pack was sent back without a fault found ${earlierOfThisPack === 1 ? "once" : `${earlierOfThisPack} times`} before.`,
          } as const,
        ]
      : []),
    ...(decided >= LEAST_DECIDED_FOR_SHARE && noFault / decided >= SHARE_THAT_STARTS
      ? [{ kind: "share", sentence: `In the last ${SHARE_WINDOW_DAYS} days ${sayShare(noFault, decided)}.` } as const]
      : []),
    ...(sameComplaint >= COUNT_THAT_STARTS
      ? [
          {
            kind: "count",
            sentence: `In the last ${COUNT_WINDOW_DAYS} days ${sameComplaint} returns of this revision with the same complaint ended without a fault found.`,
          } as const,
        ]
      : []),
  ];
}

function sayShare(noFault: number, decided: number): string {
  const { lower, upper } = clopperPearsonLimits(noFault, decided);
  const percent = (share: number) => Math.round(share * 100);
  return `${noFault} of ${decided} decided returns of this revision ended without a fault found (${percent(noFault / decided)} %, 95 % limits ${percent(lower)} to ${percent(upper)} %)`;
}
