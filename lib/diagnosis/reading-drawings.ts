import { type DriftPicture, driftPicture } from "@/lib/diagnosis/drift-picture";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { type FindingPlace, findingPlaces } from "@/lib/diagnosis/finding-places";
import { type DeviationMap, deviationMap } from "@/lib/readings/deviation-map";
import { extremesAsLogged } from "@/lib/readings/extreme-groups";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { type TracePicture, tracePicture } from "@/lib/readings/trace-picture";

/** What is drawn beside the traces. Small and plain data, so that it can be kept with the file. */
export interface ReadingDrawings {
  readonly deviations: DeviationMap | null;
  readonly drift: DriftPicture;
  readonly places: readonly FindingPlace[];
  /** Why no resistance can be drawn; null where one was measured. */
  readonly resistanceRefused: string | null;
}

/** The whole log goes into the map, also what lies behind an acute event. */
export function readingDeviations(log: ReadingLog, { survey }: Evidence): DeviationMap | null {
  return deviationMap(log, survey.gates.cellPlausibleV, survey.log === log ? survey.referenceV : null);
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

/** The traces of the whole log, with the groups that were found. Extremes of its rows are known where all of them were judged. */
export function readingTraces(log: ReadingLog, { survey }: Evidence, findings: readonly Finding[]): TracePicture {
  const plausible = { lowest: survey.lowestV, highest: survey.highestV };
  return tracePicture(
    log,
    findings.flatMap(({ groups }) => groups),
    survey.log === log ? extremesAsLogged(log.cellVoltagesV, plausible, survey.plausibleGroups) : undefined,
  );
}
