import { type IncidentFlag, incidentFlags } from "./incident-flags";

/** One recorded event as the pattern search sees it. */
export interface FlaggedEvent {
  readonly reference: string;
  readonly flags: readonly IncidentFlag[];
  /** Null while nobody can name the pack. */
  readonly revisionCode: string | null;
  readonly lotCodes: readonly string[];
}

/** Patterns only a person can see; they are recorded by name and never computed. */
export const namedPatterns = ["rate-signal", "same-joint-or-process", "safety-change-in-later-revision"] as const;
export type NamedPattern = (typeof namedPatterns)[number];

export const namedPatternLabels: Readonly<Record<NamedPattern, string>> = {
  "rate-signal": "The failure rates of a revision or lot stand out",
  "same-joint-or-process": "The same joint or process step is behind several cases",
  "safety-change-in-later-revision":
    "A later revision was changed for safety while packs of the earlier one are still in use",
};

export interface Pattern {
  readonly sharedBy: "revision" | "lot";
  readonly code: string;
  readonly flag: IncidentFlag;
  readonly references: readonly string[];
}

/** Events with the same flag in one lot or revision from which on a pattern is shown. Common practice, no source. */
export const SIMILAR_EVENTS = 2;

/** Flags that the same lot or revision shows in two events or more. Most events first, then by name. */
export function findPatterns(events: readonly FlaggedEvent[]): Pattern[] {
  const found = new Map<string, { pattern: Omit<Pattern, "references">; references: Set<string> }>();
  const note = (sharedBy: Pattern["sharedBy"], code: string, flag: IncidentFlag, reference: string) => {
    const key = `${sharedBy} ${code} ${flag}`;
    const entry = found.get(key) ?? { pattern: { sharedBy, code, flag }, references: new Set<string>() };
    entry.references.add(reference);
    found.set(key, entry);
  };
  for (const { reference, flags, revisionCode, lotCodes } of events) {
    for (const flag of flags) {
      if (revisionCode !== null) note("revision", revisionCode, flag, reference);
      for (const code of lotCodes) note("lot", code, flag, reference);
    }
  }
  return [...found.values()]
    .filter(({ references }) => references.size >= SIMILAR_EVENTS)
    .map(({ pattern, references }) => ({ ...pattern, references: [...references].sort() }))
    .sort(
      (a, b) =>
        b.references.length - a.references.length ||
        a.code.localeCompare(b.code, "en") ||
        incidentFlags.indexOf(a.flag) - incidentFlags.indexOf(b.flag),
    );
}
