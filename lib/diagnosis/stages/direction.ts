import type { CellsAndJoints } from "@/lib/diagnosis/stages/cells-and-joints";
import type { AbuseEvents, AbuseKind } from "@/lib/readings/measure/abuse-events";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import type { ReadingFileSummary } from "@/lib/readings/reading-log";

/** Whether charging can be told from discharging; a pack through which nothing flows needs no direction. */
export function isDirectionKnown({ currentSign }: ReadingFileSummary, { log, restCurrentA }: RowSurvey): boolean {
  return currentSign !== "unknown" || !log.currentA.some((ampere) => Math.abs(ampere) > restCurrentA);
}

/**
 * What is left of stage 7 where nobody knows which way the current counts: a guess would turn riding into charging. Charge cannot
 * be followed, and a switch that conducts while it is off cannot be told from its body diode. What rests show stays, and a
 * resistance has its own proof of the direction.
 */
export function withoutDirection(cells: CellsAndJoints): CellsAndJoints {
  return {
    ...cells,
    charge: null,
    states: null,
    restCapacity: null,
    fullDischarge: null,
    spreads: [],
    switches: cells.switches.filter(({ kind }) => kind === "open while on"),
  };
}

const askDirection: ReadonlySet<AbuseKind> = new Set([
  "cold charge",
  "hot charge",
  "over-current discharge",
  "over-current charge",
  "charger voltage too high",
]);

/** Use outside the limits that needs no direction of the current to be told. */
export function toldWithoutDirection(abuse: readonly AbuseEvents[]): AbuseEvents[] {
  return abuse.filter(({ kind }) => !askDirection.has(kind));
}
