import { type NamedGroup, nameOfGroup } from "./group-name";

/** A signal of a group for one fault; empty for all faults together. */
export interface SignalOfFault extends NamedGroup {
  readonly fault: string;
}

/**
 * Names of the groups to tell of: those with a signal for a fault for which none of them was ever kept. A connector told of in spring
 * does not keep quiet about dangerous events in autumn; the same fault kept anew under other rules, or of another model, is not told again.
 */
export function groupsToTell(signals: readonly SignalOfFault[], keptBefore: readonly SignalOfFault[]): string[] {
  const keyOf = (signal: SignalOfFault) => JSON.stringify([signal.by, signal.group, signal.fault]);
  const known = new Set(keptBefore.map(keyOf));
  return [...new Set(signals.filter((signal) => !known.has(keyOf(signal))).map(nameOfGroup))];
}
