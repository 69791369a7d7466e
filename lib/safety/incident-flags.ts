import type { DangerSign } from "@/lib/returns/danger-signs";
import type { SafetyState } from "@/lib/returns/safety-track";

/**
 * What always makes an incident, whoever saw it. The list follows what reporting laws ask about (death, injury, fire,
 * damage) and common practice; it is never shortened by a judgement of how grave the event was.
 */
export const incidentFlags = [
  "fire",
  "smoke",
  "venting",
  "explosion",
  "burn-shock-or-injury",
  "property-damage",
  "emergency-services",
  "swelling",
  "leak",
  "heat-without-load",
  "protection-did-not-act",
  "harm-to-child-or-third-party",
  "charging-unattended",
] as const;
export type IncidentFlag = (typeof incidentFlags)[number];

/** With these nobody goes near the pack. */
const goingOn: readonly IncidentFlag[] = ["fire", "smoke", "venting", "explosion", "heat-without-load"];

/** The flag that the pack of an incident gets: what is going on forbids to move it; any other sign, and words alone, set it apart. */
export function flagOfIncident(flags: readonly IncidentFlag[]): SafetyState {
  return flags.some((flag) => goingOn.includes(flag)) ? "do-not-move" : "isolate";
}

export const incidentFlagLabels: Readonly<Record<IncidentFlag, string>> = {
  fire: "Fire or flames",
  smoke: "Smoke or vapour",
  venting: "Gas came out, or it hissed",
  explosion: "Explosion or bursting",
  "burn-shock-or-injury": "Someone was burned, got a shock or was hurt",
  "property-damage": "Something else was damaged",
  "emergency-services": "Emergency services were called or came",
  swelling: "Swelling",
  leak: "Something leaked",
  "heat-without-load": "Heat although nobody used or charged it",
  "protection-did-not-act": "A protection that should have acted did not",
  "harm-to-child-or-third-party": "Harm to a child or to somebody not using the vehicle",
  "charging-unattended": "It happened while charging with nobody there",
};

/** Flags that follow from a danger sign. A fall or water alone raises none: it is a warning sign for transport. */
const flagsOfSign: Readonly<Record<DangerSign, readonly IncidentFlag[]>> = {
  hot: ["heat-without-load"],
  "smoke-or-smell": ["smoke"],
  swollen: ["swelling"],
  leaking: ["leak"],
  "noise-from-inside": ["venting"],
  "impact-or-water": [],
  "someone-hurt": ["burn-shock-or-injury"],
  "fire-or-damage-nearby": ["fire", "property-damage"],
};

/** Faults of the readings that speak of an event as such. */
const flagsOfFault: Readonly<Record<string, readonly IncidentFlag[]>> = {
  "acute-event": ["heat-without-load"],
};

export interface FlagEvidence {
  readonly dangerSigns: readonly string[];
  readonly conditions: readonly string[];
  readonly findings: readonly { readonly fault: string; readonly safetyClass: string }[];
}

/** The hard flags in what was told and read, in the order of the list; empty means that nobody told of one, no more. */
export function flagsIn({ dangerSigns, findings }: FlagEvidence): IncidentFlag[] {
  const raised = new Set([
    ...Object.entries(flagsOfSign).flatMap(([sign, flags]) => (dangerSigns.includes(sign) ? flags : [])),
    ...findings.flatMap(({ fault }) => flagsOfFault[fault] ?? []),
    ...findings.flatMap(({ fault, safetyClass }): IncidentFlag[] =>
      fault === "power-stage-fault" && safetyClass === "A1" ? ["protection-did-not-act"] : [],
    ),
  ]);
  return incidentFlags.filter((flag) => raised.has(flag));
}
