import type { CalendarDate } from "@/lib/warranty/calendar";
import { isOpenOn, type KnownIssue } from "./known-issue";

/** That packs of one revision may be replaced by packs of another; a revision replaces its own only with such a row. */
export interface Compatibility {
  readonly revisionCode: string;
  readonly replacedByCode: string;
  readonly note: string;
  /** Lots with an open issue of which packs of `replacedByCode` hold something: a stop of any other is no word about them. */
  readonly lotCodes: readonly string[];
}

export interface RevisionStanding {
  readonly code: string;
  /** Day from which a newer one is built instead; null for a current revision. */
  readonly supersededOn: CalendarDate | null;
}

export interface ReplacementOption {
  readonly revisionCode: string;
  readonly note: string;
  /** Lots under an open stop: a pack that holds one must not be sent. */
  readonly avoidLotCodes: readonly string[];
}

export interface RefusedReplacement {
  readonly revisionCode: string;
  readonly why: "superseded" | "stopped" | "unknown-revision";
  readonly sentence: string;
}

export type ReplacementChoice =
  | {
      readonly kind: "may-replace";
      readonly options: readonly ReplacementOption[];
      readonly refused: readonly RefusedReplacement[];
    }
  | { readonly kind: "none"; readonly sentence: string; readonly refused: readonly RefusedReplacement[] };

/**
 * The revisions a pack may be replaced with: compatible by a row of the table, current, and under no open stop. Each
 * refused one says why, because the bench will ask.
 */
export function replacementChoice(
  revisionCode: string,
  compatibility: readonly Compatibility[],
  revisions: readonly RevisionStanding[],
  issues: readonly KnownIssue[],
  on: CalendarDate,
): ReplacementChoice {
  const stops = issues.filter((issue) => issue.stopShip && isOpenOn(issue, on));
  const options: ReplacementOption[] = [];
  const refused: RefusedReplacement[] = [];
  for (const { replacedByCode, note, lotCodes } of compatibility.filter((row) => row.revisionCode === revisionCode)) {
    const refusal = refusalOf(replacedByCode, revisions, stops, on);
    if (refusal !== null) refused.push(refusal);
    else
      options.push({ revisionCode: replacedByCode, note, avoidLotCodes: lotsToAvoid(replacedByCode, lotCodes, stops) });
  }
  if (options.length > 0) return { kind: "may-replace", options, refused };
  const sentence =
    refused.length === 0
      ? `No revision is on record as fitting in place of ${revisionCode}. Ask engineering before promising a replacement.`
      : `No revision may replace ${revisionCode} now. Repair it, or ask engineering for a way.`;
  return { kind: "none", sentence, refused };
}

function refusalOf(
  code: string,
  revisions: readonly RevisionStanding[],
  stops: readonly KnownIssue[],
  on: CalendarDate,
): RefusedReplacement | null {
  const standing = revisions.find((revision) => revision.code === code);
  if (standing === undefined)
    return { revisionCode: code, why: "unknown-revision", sentence: `${code} is not on record as a revision.` };
  // A stop on a lot alone leaves the rest of the revision free.
  const stop = stops.find((issue) => issue.revisionCode === code && issue.lotCode === null);
  if (stop !== undefined) return { revisionCode: code, why: "stopped", sentence: `${code} is stopped: ${stop.title}.` };
  if (standing.supersededOn !== null && standing.supersededOn <= on) {
    return { revisionCode: code, why: "superseded", sentence: `${code} is no longer current.` };
  }
  return null;
}

function lotsToAvoid(code: string, itsLots: readonly string[], stops: readonly KnownIssue[]): string[] {
  const lots = stops
    .filter((issue) => issue.revisionCode === null || issue.revisionCode === code)
    .flatMap(({ lotCode }) => (lotCode !== null && itsLots.includes(lotCode) ? [lotCode] : []));
  return [...new Set(lots)];
}
