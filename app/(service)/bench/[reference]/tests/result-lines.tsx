import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { sayVerdict, seenWords, verdictWords } from "@/lib/bench-tests/verdict";
import type { BenchTestView, ResultView } from "@/lib/data/bench-tests/bench-test-page";

/** Everything that was written down for a test, newest first; what no longer counts says so. */
export function ResultLines({ results, waivers }: Pick<BenchTestView, "results" | "waivers">) {
  if (results.length === 0 && waivers.length === 0) return null;
  return (
    <ul className="space-y-2 border-l-4 border-rule pl-3">
      {results.map((result) => (
        <li key={result.id} className={result.isCorrected || result.isEarlierRound ? "text-soft" : ""}>
          <p>
            <strong>{labelOf(verdictWords, result.verdict)}.</strong> {sentenceOf(result)}
            {result.isCorrected ? " Corrected by a later entry." : ""}
            {result.isEarlierRound ? " Made before the pack came to the bench again." : ""}
          </p>
          {result.doubt === null ? null : <p className="font-semibold text-warn">{result.doubt}</p>}
          {result.note === "" ? null : (
            <p dir="auto">
              {result.isCorrection ? "Correction: " : ""}
              {result.note}
            </p>
          )}
          {result.leaveToDestroy === null ? null : <p>Allowed by: {result.leaveToDestroy}</p>}
          <p className="text-sm text-soft">
            {result.byName}, <LocalTime at={result.at} />
            {result.instrumentCode === null ? "" : `, with ${result.instrumentCode}`}
            {result.ambientC === null ? "" : `, room ${result.ambientC} °C`}
          </p>
        </li>
      ))}
      {waivers.map(({ why, byName, at }) => (
        <li key={at.toISOString()}>
          <p dir="auto">
            <strong>Left out.</strong> {why}
          </p>
          <p className="text-sm text-soft">
            {byName}, <LocalTime at={at} />
          </p>
        </li>
      ))}
    </ul>
  );
}

function sentenceOf({ value, unit, expandedUncertainty, lower, upper, seen }: ResultView): string {
  if (value === null || unit === null || expandedUncertainty === null) return `${labelOf(seenWords, seen ?? "")}.`;
  return sayVerdict({ value, expandedUncertainty }, { lower, upper }, unit);
}
