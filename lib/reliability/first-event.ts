import type { LifeDates } from "./exposure";

export interface UnitHistory extends LifeDates {
  readonly serial: string;
  readonly group: string;
}

/**
 * One life per serial: a pack can fail for the first time only once. Where a serial stands there more than once, the
 * record with the earliest confirmed failure is kept, else the first; the others are returned as `repeated`, to be
 * counted and named, because a doubled pack would be at risk twice.
 */
export function firstEventPerSerial<History extends UnitHistory>(
  histories: Iterable<History>,
): {
  readonly kept: readonly History[];
  readonly repeated: readonly History[];
} {
  const keptBySerial = new Map<string, History>();
  const repeated: History[] = [];
  for (const history of histories) {
    const known = keptBySerial.get(history.serial);
    if (known === undefined) {
      keptBySerial.set(history.serial, history);
    } else if (failsEarlier(history, known)) {
      keptBySerial.set(history.serial, history);
      repeated.push(known);
    } else {
      repeated.push(history);
    }
  }
  return { kept: [...keptBySerial.values()], repeated };
}

function failsEarlier(candidate: UnitHistory, known: UnitHistory): boolean {
  if (!candidate.failure?.confirmed) return false;
  return !known.failure?.confirmed || candidate.failure.toldOn < known.failure.toldOn;
}
