import { type DriftPicture, driftPicture } from "@/lib/diagnosis/drift-picture";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { type FindingPlace, findingPlaces } from "@/lib/diagnosis/finding-places";
import { type DeviationMap, deviationMap } from "@/lib/readings/deviation-map";
import { extremesAsLogged } from "@/lib/readings/extreme-groups";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { type ColumnTraces, columnTraces } from "@/lib/readings/trace-picture";

/** What is drawn beside the traces. Small and plain data, so that it can be kept with the file. */
export interface ReadingDrawings {
  readonly deviations: DeviationMap | null;
  readonly drift: DriftPicture;
  readonly places: readonly FindingPlace[];
  /** Why no resistance can be drawn; null where one was measured. */
  readonly resistanceRefused: string | null;
}

/** What is drawn of a log whatever was found in it: the map of deviations and the traces of its columns. */
export interface ColumnDrawings {
  readonly deviations: DeviationMap | null;
  readonly traces: ColumnTraces;
}

/** Draws the whole log, also what lies behind an acute event. Extremes of its rows are known where all of them were judged. */
export function columnDrawings(log: ReadingLog, { survey }: Evidence): ColumnDrawings {
  const isWhole = survey.log === log;
  const plausible = { lowest: survey.lowestV, highest: survey.highestV };
  return {
    deviations: deviationMap(log, survey.gates.cellPlausibleV, isWhole ? survey.referenceV : null),
    traces: columnTraces(
      log,
      isWhole ? extremesAsLogged(log.cellVoltagesV, plausible, survey.plausibleGroups) : undefined,
    ),
  };
}

/** Draws what was measured, beside the map of deviations. */
export function readingDrawings(
  evidence: Evidence,
  findings: readonly Finding[],
  deviations: DeviationMap | null,
): ReadingDrawings {
  return {
    deviations,
    drift: driftPicture(evidence),
    places: findingPlaces(evidence, findings),
    resistanceRefused: evidence.resistance.outcome === "refused" ? evidence.resistance.reason : null,
  };
}
