import type { Baseline } from "@/lib/diagnosis/baseline";
import { type Diagnosis, diagnoseAndDraw } from "@/lib/diagnosis/diagnose";
import type { ReadingDrawings } from "@/lib/diagnosis/reading-drawings";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";
import type { PackModel } from "@/lib/packs/pack-model";
import { type Both, inTurn } from "@/lib/readings/both";
import type { DecodedReadings } from "@/lib/readings/read-readings";
import type { ReadingFileSummary } from "@/lib/readings/reading-log";
import type { TracePicture } from "@/lib/readings/trace-picture";

/** Everything that is kept of a readings file beside its bytes. Small beside the log, and plain data. */
export interface ReadingReport {
  readonly kind: "report";
  readonly summary: ReadingFileSummary;
  readonly startUnixS: number | null;
  readonly spanSeconds: number;
  /** The traces, and what is drawn beside them. */
  readonly picture: TracePicture & Partial<ReadingDrawings>;
  readonly diagnosis: Diagnosis;
}

/** Diagnoses a decoded file and draws it together to what is kept. */
export function reportReadings(
  { log, summary }: Pick<DecodedReadings, "log" | "summary">,
  model: PackModel,
  context: SuggestionContext = {},
  baseline?: Baseline,
  both: Both = inTurn,
): ReadingReport {
  const given = baseline === undefined ? {} : { baseline };
  const { diagnosis, traces, drawings } = diagnoseAndDraw({ log, summary, model, context, ...given }, both);
  return {
    kind: "report",
    summary,
    startUnixS: log.startUnixS,
    spanSeconds: log.timeS.at(-1) ?? 0,
    picture: { ...traces, ...drawings },
    diagnosis,
  };
}
