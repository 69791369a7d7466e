import { settingsForModel } from "@/lib/diagnosis/settings-for-model";
import type { ModelThresholds } from "@/lib/packs/pack-model";

/**
 * All that readings contribute to the class a pack travels in. Words as they are stored: a class or fault of a release
 * nobody knows any more is judged where it is read, and never makes a pack safer.
 */
export interface TransportInput {
  readonly findings: readonly { readonly fault: string; readonly safetyClass: string }[];
  /** Share of the time that is covered by readings, 0 to 1. */
  readonly timeCoverage: number;
  /** Share below which nothing is called sound, by the thresholds the file was judged by; the usual one where none are kept. */
  readonly leastTimeCoverage?: number;
  readonly suggestedRemedy: string | null;
  /** Classes of fault the readings could not have shown, each with its sentence. */
  readonly unseen: readonly { readonly fault: string; readonly because: string }[];
}

/** After the verdict: what of it the transport class rests on. Confidence plays no part; a small chance of danger counts whole. */
export function transportInput(
  findings: TransportInput["findings"],
  timeCoverage: number,
  suggestion: {
    readonly remedy: string;
    readonly unseen: TransportInput["unseen"];
    readonly thresholds?: ModelThresholds;
  } | null,
): TransportInput {
  return {
    findings: findings.map(({ fault, safetyClass }) => ({ fault, safetyClass })),
    timeCoverage,
    leastTimeCoverage: settingsForModel({ diagnosis: suggestion?.thresholds }).settings.verdict.timeCoverage,
    suggestedRemedy: suggestion?.remedy ?? null,
    unseen: suggestion?.unseen.map(({ fault, because }) => ({ fault, because })) ?? [],
  };
}
