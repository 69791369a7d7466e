import { firstKnowledge, type Knowledge } from "./first-knowledge";
import type { ReportingDecision } from "./incident-decision";
import type { IncidentEntryContent } from "./incident-entry.schema";
import { type IncidentFlag, incidentFlags } from "./incident-flags";
import type { NamedPattern } from "./pattern-flags";

export interface IncidentEntryRow {
  readonly sequence: number;
  readonly content: IncidentEntryContent;
  readonly at: Date;
  readonly byName: string;
}

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
  /** The last decision on each clock. */
  readonly decisions: ReadonlyMap<string, DecisionOnClock>;
  /** The first who took notice; null while the safety officer is still called. */
  readonly acknowledged: { readonly at: Date; readonly byName: string } | null;
  readonly closed: { readonly reason: string; readonly at: Date; readonly byName: string } | null;
}

/**
 * Reads the entries in their order. First knowledge is the earliest one ever told, so a later entry can only move it
 * earlier; a determination counts from the first one; of several decisions on a clock the last one stands.
 */
export function foldIncident(entries: readonly IncidentEntryRow[]): IncidentState {
  const knowledge: Knowledge[] = [];
  const flags = new Set<IncidentFlag>();
  const countries = new Set<string>();
  const checked = new Map<string, { at: Date; byName: string }>();
  const patterns: { pattern: NamedPattern; note: string }[] = [];
  const decisions = new Map<string, DecisionOnClock>();
  let determinedAt: Date | null = null;
  let acknowledged: IncidentState["acknowledged"] = null;
  let closed: IncidentState["closed"] = null;
  for (const { content, at, byName } of [...entries].sort((a, b) => a.sequence - b.sequence)) {
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
        break;
      case "acknowledged":
        acknowledged ??= { at, byName };
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
  return {
    firstKnown: firstKnowledge(knowledge),
    flags: incidentFlags.filter((flag) => flags.has(flag)),
    countries: [...countries].sort(),
    determinedAt,
    checked,
    namedPatterns: patterns,
    decisions,
    acknowledged,
    closed,
  };
}
