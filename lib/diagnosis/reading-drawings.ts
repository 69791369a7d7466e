import { type DriftPicture, driftPicture } from "@/lib/diagnosis/drift-picture";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { type FindingPlace, findingPlaces } from "@/lib/diagnosis/finding-places";
import { type DeviationMap, deviationMap } from "@/lib/readings/deviation-map";
import type { ReadingLog } from "@/lib/readings/reading-log";

/** What is drawn beside the traces. Small and plain data, so that it can be kept with the file. */
export interface ReadingDrawings {
  readonly deviations: DeviationMap | null;
  readonly drift: DriftPicture;
  readonly places: readonly FindingPlace[];
  /** Why no resistance can be drawn; null where one was measured. */
  readonly resistanceRefused: string | null;
}

/** Draws what was measured. The whole log goes into the map, also what lies behind an acute event. */
export function readingDrawings(log: ReadingLog, evidence: Evidence, findings: readonly Finding[]): ReadingDrawings {
  return {
    deviations: deviationMap(
      log,
      evidence.survey.gates.cellPlausibleV,
      evidence.survey.log === log ? evidence.survey.referenceV : null,
    ),
    drift: driftPicture(evidence),
    places: findingPlaces(evidence, findings),
    resistanceRefused: evidence.resistance.outcome === "refused" ? evidence.resistance.reason : null,
  };
}
