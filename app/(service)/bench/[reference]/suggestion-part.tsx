import { suggestedTestCaution } from "@/lib/bench-tests/next-test-caution";
import { sayRemedy } from "@/lib/diagnosis/fault-words";
import { inPrint } from "@/lib/diagnosis/wording";
import { BenchSection } from "./bench-section";

interface SuggestionPartProps {
  readonly suggestion: {
    readonly remedy: string;
    readonly reasons: readonly string[];
    readonly wouldChange: readonly string[];
    readonly ruleVersion: string;
  } | null;
  /** Most likely first. */
  readonly findings: readonly { readonly fault: string }[];
}

/** What the rules make of the readings and of what was found in hand. Dashed, because nothing here was decided by anybody. */
export function SuggestionPart({ suggestion, findings }: SuggestionPartProps) {
  const caution = suggestion === null ? null : suggestedTestCaution(suggestion.remedy, findings);
  return (
    <BenchSection title="What is suggested">
      {suggestion === null ? (
        <p className="text-soft">Nothing is suggested without readings or a finding in hand.</p>
      ) : (
        <div className="space-y-2 border-2 border-dashed border-edge p-3">
          <p className="caption-print">A suggestion, not a decision</p>
          <p className="font-semibold">{sayRemedy(suggestion.remedy)}</p>
          {caution === null ? null : (
            <p className="text-sm font-semibold text-warn">Before the test named here: {caution}</p>
          )}
          <ul className="list-disc pl-5">
            {suggestion.reasons.map(inPrint).map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
          {suggestion.wouldChange.length === 0 ? null : (
            <>
              <p className="caption-print pt-1">What would change it</p>
              <ul className="list-disc pl-5 text-sm">
                {suggestion.wouldChange.map(inPrint).map((sentence) => (
                  <li key={sentence}>{sentence}</li>
                ))}
              </ul>
            </>
          )}
          <p className="text-sm text-soft">Rules of version {suggestion.ruleVersion}</p>
        </div>
      )}
    </BenchSection>
  );
}
