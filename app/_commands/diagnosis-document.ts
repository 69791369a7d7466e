import type { Diagnosis } from "@/lib/diagnosis/diagnose";
import type { ReadingFileSummary } from "@/lib/readings/reading-log";

/**
 * The document `diagnose` prints: fields may be added, never renamed. A measurement without a finite value is left out and a
 * missing uncertainty is null, because JSON has no NaN and "null" would read as a value.
 */
export function diagnosisDocument(summary: ReadingFileSummary, diagnosis: Diagnosis) {
  return {
    file: {
      rows: summary.rows,
      rejected: summary.rejected,
      rejectedNotListed: summary.rejectedNotListed,
      groups: summary.groups,
      currentSign: summary.currentSign,
      coverage: summary.coverage,
      timeRepairs: summary.timeRepairs,
      serialInFile: summary.serialInFile,
      remarks: summary.remarks,
    },
    measurements: diagnosis.measurements
      .filter((measurement) => Number.isFinite(measurement.value))
      .map((measurement) => ({
        name: measurement.name,
        group: measurement.group,
        value: measurement.value,
        unit: measurement.unit,
        uncertainty:
          measurement.uncertainty !== null && Number.isFinite(measurement.uncertainty) ? measurement.uncertainty : null,
        method: measurement.method,
        conditions: measurement.conditions,
      })),
    findings: diagnosis.findings.map((finding) => ({
      fault: finding.fault,
      groups: finding.groups,
      confidence: Number.isFinite(finding.confidence) ? finding.confidence : 0,
      safetyClass: finding.safetyClass,
      for: finding.evidenceFor,
      against: finding.evidenceAgainst,
      nextTest: finding.nextTest,
    })),
    suggestion: {
      remedy: diagnosis.suggestion.remedy,
      reasons: diagnosis.suggestion.reasons,
      plainReasons: diagnosis.suggestion.plainReasons,
      wouldChange: diagnosis.suggestion.wouldChange,
      missing: diagnosis.suggestion.missing,
      ruleVersion: diagnosis.suggestion.ruleVersion,
    },
    unseen: diagnosis.unseen.map(({ fault, because, next }) => ({ fault, because, next })),
    thresholds: diagnosis.thresholds,
    ...(diagnosis.besideBuilt === null ? {} : { besideBuilt: diagnosis.besideBuilt }),
  };
}
