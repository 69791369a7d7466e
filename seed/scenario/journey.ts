import type { CustodyPlace } from "@/lib/returns/custody-track";
import type { MoveName } from "@/lib/returns/move-names";
import type { ReturnStatus } from "@/lib/returns/return-status";
import { leadEmail, managerEmail, safetyOfficerEmail } from "./dealers";
import type { ScenarioReturn } from "./scenario";

/** One step of a return's way, or of its pack alone where `move` is null. */
export interface Step {
  readonly move: MoveName | null;
  readonly to: ReturnStatus;
  /** E-mail of who did it; "lodger" for whoever lodged the return. */
  readonly by: string;
  readonly at: string;
  readonly reason: string;
  readonly facts: {
    readonly stated?: Readonly<Record<string, string | boolean>>;
    readonly decision?: Readonly<Record<string, string | number>>;
  };
  readonly custody?: CustodyPlace;
  readonly lowersSafety?: boolean;
}

export interface Journey {
  readonly steps: readonly Step[];
  readonly proposedBy: string;
}

const HOUR_MS = 60 * 60 * 1000;
const DAY_MS = 24 * HOUR_MS;

interface Place {
  readonly serial: string;
  readonly deliveredOn: string;
}

/**
 * The way of a return as far as it had come at an instant. What is decided on a pack that has to be worked on was tested
 * at the works first; the rest was decided on log and photographs. Waits are invented.
 */
export function journeyOf(one: ScenarioReturn, replacedBy: Place | null, until: Date): Journey {
  const reviewer = one.reviewedBy ?? leadEmail;
  const approver = reviewer === leadEmail ? managerEmail : leadEmail;
  const steps = [
    ...untilDecision(one, reviewer),
    ...decided(one, reviewer, approver),
    ...afterDecision(one, replacedBy),
  ];
  return { steps: steps.filter(({ at }) => new Date(at) <= until), proposedBy: reviewer };
}

function untilDecision(one: ScenarioReturn, reviewer: string): Step[] {
  if (one.reviewStartedAt === null) return [];
  const start = new Date(one.reviewStartedAt).getTime();
  const taken = step("take", "in-review", reviewer, start, "Taken from the queue.");
  const lowered = one.dangerSigns.length > 0 && one.decision?.remedy !== "isolate" && one.decision !== null;
  const judged: Step[] = lowered
    ? [
        {
          ...step(null, "in-review", safetyOfficerEmail, start + HOUR_MS, "Judged from photographs and readings."),
          lowersSafety: true,
        },
      ]
    : [];
  if (one.decision === null) return [taken, ...underWay(one, reviewer, start)];
  const end = new Date(one.decision.decidedAt).getTime();
  return [taken, ...judged, ...(comesIn(one) ? broughtIn(one, reviewer, start + 2 * HOUR_MS, end - 4 * HOUR_MS) : [])];
}

/** What is repaired has to be here. */
function comesIn({ decision }: ScenarioReturn): boolean {
  return decision?.remedy === "repair";
}

/** Allowed, sent, received, watched and put on the bench, in even parts of the time there is. */
function broughtIn(one: ScenarioReturn, reviewer: string, from: number, to: number): Step[] {
  const at = (part: number) => from + ((to - from) * part) / 5;
  return [
    step("approve-return", "return-approved", leadEmail, at(0), "Diagnosed from the log; it is to be opened here."),
    {
      ...step("hand-to-carrier", "return-expected", "lodger", at(1), ""),
      facts: { stated: { packedAsTold: true } },
      custody: "with-carrier-in",
    },
    {
      ...step("receive", "at-the-works", reviewer, at(3), ""),
      facts: { stated: { scannedSerial: one.serial } },
      custody: "quarantine",
    },
    {
      ...step("start-test", "under-test", reviewer, at(4), ""),
      facts: { stated: { quarantineMet: true } },
      custody: "bench",
    },
  ];
}

/**
 * Returns under review lie at different places of their way, told apart by their running number. Between arrival and
 * bench lie more than the 24 hours that a pack is watched.
 */
function underWay(one: ScenarioReturn, reviewer: string, start: number): Step[] {
  const number = Number(one.key);
  const later = (days: number) => start + days * DAY_MS;
  if (one.dangerSigns.length > 0) return [];
  const inward = () => broughtIn(one, reviewer, later(0.2), later(6));
  switch (number % 7) {
    case 0: {
      const dueOn = new Date(later(8)).toISOString().slice(0, 10);
      const text = "Which charger was used, and does the display show a code? A photograph of both would help.";
      return [{ ...step("ask", "more-information-needed", reviewer, later(0.1), text), facts: { stated: { dueOn } } }];
    }
    case 1:
    case 2:
    case 3:
    case 4:
      return inward().slice(0, number % 7);
    case 5: {
      const advice = "Clean the contacts of the connector and try the other charger.";
      return one.readings === null ? [] : [step("help", "remote-help", reviewer, later(0.2), advice)];
    }
    default: {
      const reason = "What the log shows is no small thing: the pack stays apart until it has been opened here.";
      const decision = { remedy: "isolate", confirmedFault: one.trueFault, reason, seenVersion: 2 };
      return [{ ...step("propose", "decision-proposed", reviewer, later(1), reason), facts: { decision } }];
    }
  }
}

function decided(one: ScenarioReturn, reviewer: string, approver: string): Step[] {
  const { decision } = one;
  if (decision === null) return [];
  const at = new Date(decision.decidedAt).getTime();
  const { remedy, confirmedFault, reason, replacementRevisionCode } = decision;
  const proposal = {
    remedy,
    confirmedFault,
    reason,
    seenVersion: 0,
    ...(replacementRevisionCode === null ? {} : { replacementRevisionCode }),
  };
  return [
    {
      ...step("propose", "decision-proposed", reviewer, at - 2 * HOUR_MS, reason),
      facts: { decision: proposal, ...(comesIn(one) ? { stated: { tests: "done" } } : {}) },
    },
    { ...step("approve", "decided", approver, at, ""), facts: { stated: { noticesGiven: true } } },
  ];
}

/** Worked on or kept ready, handed back, closed. What is isolated waits for the next decision. */
function afterDecision(one: ScenarioReturn, replacedBy: Place | null): Step[] {
  const { decision } = one;
  if (decision === null || decision.remedy === "isolate" || one.reviewedBy === null) return [];
  const start = new Date(decision.decidedAt).getTime();
  const handedBackAt =
    replacedBy === null
      ? start + 9 * DAY_MS
      : Math.max(Date.parse(`${replacedBy.deliveredOn}T12:00:00Z`), start + DAY_MS);
  const isReplaced = decision.remedy === "replace";
  if (isReplaced && replacedBy === null) return [];
  const by = one.reviewedBy;
  const middle = (start + handedBackAt) / 2;
  const work: Step[] =
    isReplaced || decision.remedy === "repair"
      ? [
          {
            ...step("start-work", "work-in-progress", by, start + 2 * HOUR_MS, ""),
            facts: {
              stated: isReplaced ? { reservedSerial: replacedBy?.serial ?? "" } : { partsAndPlan: "As decided." },
            },
          },
          {
            ...step("finish-work", "ready-to-hand-back", by, middle, "Released."),
            facts: { stated: { releaseSignature: by } },
            ...(isReplaced ? {} : { custody: "store" as const }),
          },
          ...(isReplaced ? [] : [sentBack(by, middle + HOUR_MS)]),
        ]
      : [
          {
            ...step("ready-without-work", "ready-to-hand-back", by, middle, ""),
            facts: { stated: { packIsSafe: true } },
          },
        ];
  return [
    ...work,
    {
      ...step("hand-back", "handed-back", "lodger", handedBackAt, ""),
      facts: { stated: { outgoingSerial: replacedBy?.serial ?? one.serial } },
      ...(comesIn(one) ? { custody: "with-dealer" as const } : {}),
    },
    {
      ...step("close", "closed", managerEmail, handedBackAt + 15 * DAY_MS, ""),
      facts: { stated: { remedyDelivered: true, moneySettled: true } },
    },
  ];
}

function sentBack(by: string, at: number): Step {
  return { ...step(null, "ready-to-hand-back", by, at, "Sent back to the dealer."), custody: "with-carrier-out" };
}

function step(move: MoveName | null, to: ReturnStatus, by: string, at: number, reason: string): Step {
  return { move, to, by, at: new Date(at).toISOString(), reason, facts: {} };
}
