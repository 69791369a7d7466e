import { sayFault } from "@/lib/diagnosis/fault-words";
import { type DecidableRemedy, liesOutside } from "@/lib/returns/decision.schema";
import { decisionStands, type ReturnStatus, undecidedStatuses } from "@/lib/returns/return-status";
import { type CalendarDate, compareDates } from "@/lib/warranty/calendar";
import { DAY_MS } from "@/lib/warranty/clock-spans";

export interface Signature {
  /** Findings of the readings with their confidence, 0 to 1; a coded fault counts as 1. */
  readonly faults: readonly { readonly fault: string; readonly confidence: number }[];
  readonly revisionCode: string;
  readonly lots: readonly { readonly kind: string; readonly code: string }[];
  readonly symptom: string;
}

export interface FittedLot {
  readonly lot: { readonly kind: string; readonly code: string };
  /** Null: it went in when the pack was built. */
  readonly fittedOn: CalendarDate | null;
  /** Null: it is still in. */
  readonly removedOn: CalendarDate | null;
}

/**
 * The lots a pack had when a return of it was lodged: what was exchanged because of that return was in it, and what was put in its
 * place was not. Work of the day itself counts as done after the lodging.
 */
export function lotsInPackOn(lots: readonly FittedLot[], lodgedOn: CalendarDate): Signature["lots"] {
  return lots
    .filter(
      ({ fittedOn, removedOn }) =>
        (fittedOn === null || compareDates(fittedOn, lodgedOn) < 0) &&
        (removedOn === null || compareDates(removedOn, lodgedOn) >= 0),
    )
    .map(({ lot }) => lot);
}

export interface PastReturn extends Signature {
  readonly reference: string;
  readonly decidedAt: Date;
  readonly remedy: string;
  readonly confirmedFault: string;
  /** Why it was decided so, in the words of whoever decided. */
  readonly reason: string;
  /** Work on the pack under that decision, each kind once, in words; empty where none is on record. */
  readonly work: readonly string[];
  /** When the customer had a pack again, or it was put right from a distance; null while that has not happened. */
  readonly carriedOutAt: Date | null;
  readonly comeback: Comeback;
}

/** Whether the pack the customer has since came back for something that was found in it; open while nobody decided that. */
export type Comeback = "none" | "undecided" | "confirmed";

export interface LaterReturn {
  readonly lodgedAt: Date;
  readonly status: ReturnStatus;
  readonly confirmedFault: string | null;
}

/**
 * What became of a remedy, from the later returns of the pack the customer has since: the replacement where one was given. Joined,
 * withdrawn and lapsed ones are no complaints, and where nothing was found in it the remedy held.
 */
export function comebackOf(carriedOutAt: Date | null, later: readonly LaterReturn[]): Comeback {
  if (carriedOutAt === null) return "none";
  const after = later.filter(({ lodgedAt }) => lodgedAt > carriedOutAt);
  const isConfirmed = ({ status, confirmedFault }: LaterReturn) =>
    decisionStands(status) && confirmedFault !== null && !liesOutside(confirmedFault);
  if (after.some(isConfirmed)) return "confirmed";
  return after.some(({ status }) => undecidedStatuses.includes(status)) ? "undecided" : "none";
}

export interface SimilarReturn {
  readonly past: PastReturn;
  /** Whole sentences or parts of one, weightiest first. */
  readonly because: readonly string[];
  readonly weight: number;
}

/**
 * How much each likeness weighs. They order a list and are no probabilities; rule of this house, no source. A signature
 * weighs more than everything shared at the making, because it is what the pack does; a joining job or a board lot more than
 * a cell lot, because fewer packs share it.
 */
const SIGNATURE_WEIGHT = 6;
const LOT_WEIGHTS: Readonly<Record<string, number>> = { joining: 1.5, board: 1.5, cell: 0.75, potting: 0.5 };
const OTHER_LOT_WEIGHT = 0.5;
const lotWords: Readonly<Record<string, string>> = {
  joining: "joining job",
  board: "board lot",
  cell: "cell lot",
  potting: "potting batch",
};
const REVISION_WEIGHT = 1;
const SYMPTOM_WEIGHT = 0.5;
/** Less than this is no likeness: the same revision and the same words of the customer alone are shared by hundreds. */
const LEAST_WEIGHT = 2;
/** Findings below it are what the readings could not exclude, not what they show. */
const LEAST_CONFIDENCE = 0.3;

/** The decided returns most like this one, best first, each with why. Of equal weight the newer comes first. */
export function rankSimilar(current: Signature, past: readonly PastReturn[]): SimilarReturn[] {
  return past
    .map((one) => likeness(current, one))
    .filter(({ weight }) => weight >= LEAST_WEIGHT)
    .sort((a, b) => b.weight - a.weight || b.past.decidedAt.getTime() - a.past.decidedAt.getTime());
}

function likeness(current: Signature, past: PastReturn): SimilarReturn {
  const shared = sharedFaults(current, past);
  const sharedLots = current.lots.filter(({ kind, code }) =>
    past.lots.some((lot) => lot.kind === kind && lot.code === code),
  );
  const parts = [
    ...shared.map(({ fault, overlap }) => ({
      weight: SIGNATURE_WEIGHT * overlap,
      because: `Same signature: ${sayFault(fault).toLowerCase()}`,
    })),
    ...sharedLots.map(({ kind, code }) => ({
      weight: LOT_WEIGHTS[kind] ?? OTHER_LOT_WEIGHT,
      because: `Same ${Object.hasOwn(lotWords, kind) ? lotWords[kind] : `${kind} lot`}: ${code}`,
    })),
    ...(current.revisionCode === past.revisionCode
      ? [{ weight: REVISION_WEIGHT, because: `Same revision: ${past.revisionCode}` }]
      : []),
    ...(current.symptom === past.symptom ? [{ weight: SYMPTOM_WEIGHT, because: "Same complaint" }] : []),
  ].sort((a, b) => b.weight - a.weight);
  return {
    past,
    because: parts.map(({ because }) => because),
    weight: parts.reduce((sum, { weight }) => sum + weight, 0),
  };
}

function sharedFaults(current: Signature, past: PastReturn): { fault: string; overlap: number }[] {
  const then = new Map(past.faults.map(({ fault, confidence }) => [fault, confidence]));
  // What somebody found at the bench outweighs what the readings pointed to.
  if (past.confirmedFault !== "unknown") then.set(past.confirmedFault, 1);
  return current.faults.flatMap(({ fault, confidence }) => {
    const overlap = Math.min(confidence, then.get(fault) ?? 0);
    return overlap < LEAST_CONFIDENCE || fault === "no-fault-found" ? [] : [{ fault, overlap }];
  });
}

export interface WhatSolved {
  readonly remedy: string;
  readonly confirmedFault: string;
  readonly count: number;
  /** Of these, packs that came back for something that was found in them, and such as are looked at now. */
  readonly cameBack: number;
  readonly undecided: number;
  /** Days since the customer had a pack again, of the newest and of the oldest of these. */
  readonly daysSince: { readonly least: number; readonly most: number };
  /** Work that was done, each with on how many of these packs, most frequent first. */
  readonly work: readonly { readonly what: string; readonly count: number }[];
}

/** Remedies after which a pack is ridden on: what was refused, handed back unchanged, refunded or disposed of solved no fault. */
const solvingRemedies: readonly string[] = ["repair", "replace", "remote-fix"] satisfies DecidableRemedy[];

export function daysSince(then: Date, now: Date): number {
  return Math.floor((now.getTime() - then.getTime()) / DAY_MS);
}

/** What solved the similar ones and how often, most frequent first: remedies that were carried out and can be seen to hold. */
export function whatSolved(similar: readonly SimilarReturn[], now: Date): WhatSolved[] {
  const groups = new Map<string, (PastReturn & { readonly carriedOutAt: Date })[]>();
  for (const { past: one } of similar) {
    const { carriedOutAt } = one;
    if (carriedOutAt === null || !solvingRemedies.includes(one.remedy)) continue;
    const past = { ...one, carriedOutAt };
    const key = `${past.remedy} ${past.confirmedFault}`;
    groups.set(key, [...(groups.get(key) ?? []), past]);
  }
  return [...groups.values()]
    .flatMap((alike): WhatSolved[] => {
      const [first] = alike;
      if (first === undefined) return [];
      return [
        {
          remedy: first.remedy,
          confirmedFault: first.confirmedFault,
          count: alike.length,
          cameBack: alike.filter(({ comeback }) => comeback === "confirmed").length,
          undecided: alike.filter(({ comeback }) => comeback === "undecided").length,
          daysSince: rangeOf(alike.map(({ carriedOutAt }) => daysSince(carriedOutAt, now))),
          work: tally(alike.flatMap(({ work }) => work)),
        },
      ];
    })
    .sort((a, b) => b.count - a.count);
}

function rangeOf(days: readonly number[]): WhatSolved["daysSince"] {
  return { least: Math.min(...days), most: Math.max(...days) };
}

function tally(words: readonly string[]): { what: string; count: number }[] {
  return [...new Set(words)]
    .map((what) => ({ what, count: words.filter((one) => one === what).length }))
    .sort((a, b) => b.count - a.count);
}
