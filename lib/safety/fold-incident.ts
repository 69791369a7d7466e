import { lastCallForDecision } from "./clock-standing";
import { firstKnowledge, type Knowledge } from "./first-knowledge";
import type { ReportingDecision } from "./incident-decision";
import type { IncidentEntryContent } from "./incident-entry.schema";
import { type IncidentFlag, incidentFlags } from "./incident-flags";
import type { NamedPattern } from "./pattern-flags";
import type { ClockSet } from "./reporting-clock.schema";
import { type HolidaysByClock, runClocks } from "./run-clocks";

export interface IncidentEntryRow {
  readonly sequence: number;
  readonly content: IncidentEntryContent;
  readonly at: Date;
  readonly byUserId: string;
  readonly byName: string;
}

/** What tells something of the event itself; every other kind says what this house did about it. */
export const factKinds = ["knowledge", "flags", "place"] as const satisfies readonly IncidentEntryContent["kind"][];

export interface DecisionOnClock {
  readonly decision: ReportingDecision;
  readonly until: string | null;
  readonly reason: string;
  readonly lawyerReference: string;
  readonly at: Date;
  readonly byName: string;
}

/** An incident as its entries leave it. */
export interface IncidentState {
  readonly firstKnown: Knowledge;
  readonly flags: readonly IncidentFlag[];
  readonly countries: readonly string[];
  readonly determinedAt: Date | null;
  readonly checked: ReadonlyMap<string, { readonly at: Date; readonly byName: string }>;
  readonly namedPatterns: readonly { readonly pattern: NamedPattern; readonly note: string }[];
  /** The last decision on each clock that was made knowing everything told so far. */
  readonly decisions: ReadonlyMap<string, DecisionOnClock>;
  /** The last decision on each clock that has to be made anew, because more became known after it. */
  readonly overtaken: ReadonlyMap<string, DecisionOnClock>;
  /** The first who took notice of everything told so far, since a clock called last for its decision; null while the safety officer is still called. */
  readonly acknowledged: { readonly at: Date; readonly byName: string } | null;
  readonly closed: { readonly reason: string; readonly at: Date; readonly byName: string } | null;
}

/**
 * Reads the entries in their order. First knowledge is the earliest one ever told, so a later entry can only move it
 * earlier; a determination counts from the first one; of several decisions on a clock the last one stands. Whatever more
 * becomes known voids the decisions before it, and every taking of notice but that of whoever told it. A clock that waits for a
 * decision at `asOf.now` voids every taking of notice before it called anew (`clock-standing.ts`); without `asOf` no clock is
 * looked at. `alsoIn` are countries concerned that nobody had to tell, such as that of the sale.
 */
export function foldIncident(
  entries: readonly IncidentEntryRow[],
  asOf: { readonly set: ClockSet; readonly holidays: HolidaysByClock; readonly now: Date } | null = null,
  alsoIn: readonly string[] = [],
): IncidentState {
  const knowledge: Knowledge[] = [];
  const flags = new Set<IncidentFlag>();
  const countries = new Set<string>(alsoIn);
  const checked = new Map<string, { at: Date; byName: string }>();
  const patterns: { pattern: NamedPattern; note: string }[] = [];
  const decisions = new Map<string, DecisionOnClock>();
  const overtaken = new Map<string, DecisionOnClock>();
  let determinedAt: Date | null = null;
  let noticed: { at: Date; byUserId: string; byName: string }[] = [];
  let closed: IncidentState["closed"] = null;
  for (const { content, at, byUserId, byName } of [...entries].sort((a, b) => a.sequence - b.sequence)) {
    if (factKinds.some((kind) => kind === content.kind)) {
      noticed = noticed.filter((one) => one.byUserId === byUserId);
      for (const [clockId, decision] of decisions) overtaken.set(clockId, decision);
      decisions.clear();
    }
    switch (content.kind) {
      case "knowledge":
        knowledge.push({ kind: content.how, at: new Date(content.knownAt) });
        break;
      case "flags":
        for (const flag of content.flags) flags.add(flag);
        break;
      case "place":
        countries.add(content.country);
        break;
      case "checklist":
        if (!checked.has(content.line)) checked.set(content.line, { at, byName });
        break;
      case "pattern":
        patterns.push({ pattern: content.pattern, note: content.note });
        break;
      case "determination":
        determinedAt ??= new Date(content.determinedAt);
        break;
      case "decision":
        decisions.set(content.clockId, { ...content, at, byName });
        overtaken.delete(content.clockId);
        break;
      case "pack":
        break;
      case "acknowledged":
        noticed.push({ at, byUserId, byName });
        break;
      case "closed":
        closed = { reason: content.reason, at, byName };
        break;
      default: {
        const never: never = content;
        throw new RangeError(`entry ${String(never)} is unknown`);
      }
    }
  }
  const firstKnown = firstKnowledge(knowledge);
  const facts = { firstKnownAt: firstKnown.at, countries: [...countries].sort(), determinedAt };
  const calledAnew =
    asOf === null
      ? null
      : lastCallForDecision(runClocks(asOf.set, facts, asOf.holidays, asOf.now), decisions, asOf.now);
  return {
    firstKnown,
    flags: incidentFlags.filter((flag) => flags.has(flag)),
    countries: facts.countries,
    determinedAt,
    checked,
    namedPatterns: patterns,
    decisions,
    overtaken,
    acknowledged: noticed.find(({ at }) => calledAnew === null || at >= calledAnew) ?? null,
    closed,
  };
}
