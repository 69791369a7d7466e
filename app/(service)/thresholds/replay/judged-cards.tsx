import type { JudgedAgain, ThresholdReplay } from "@/lib/data/readings/threshold-replay";
import { sayConfidence } from "@/lib/diagnosis/confidence-words";
import { sayRemedy } from "@/lib/diagnosis/fault-words";
import { sayFinding } from "@/lib/diagnosis/verdict-differences";

/** One past file under each set of thresholds, with what comes out otherwise. */
export function JudgedCards({ replay }: { readonly replay: Extract<ThresholdReplay, { kind: "replayed" }> }) {
  const { reference, kept, ruleVersion, again } = replay;
  return (
    <section className="space-y-4">
      <h2>{reference}</h2>
      <p>
        Suggested then, and standing: {sayRemedy(kept.remedy)}, by rules {kept.ruleVersion}.
        {kept.ruleVersion === ruleVersion
          ? ""
          : ` The rules of today are ${ruleVersion}: they alone may judge otherwise.`}
      </p>
      <div className="grid gap-4 lg:grid-cols-2">
        {again.map((one) => (
          <JudgedCard key={titleOf(one)} one={one} />
        ))}
      </div>
    </section>
  );
}

function JudgedCard({ one }: { readonly one: JudgedAgain }) {
  const { under, verdict, thresholdChanges, differences } = one;
  return (
    <article className="card space-y-2 p-4">
      <h3>{titleOf(one)}</h3>
      <p>{sayRemedy(verdict.suggestion.remedy)}</p>
      {under === null ? null : (
        <>
          <p className="caption-print">Thresholds that differ</p>
          <Lines lines={thresholdChanges} none="None." />
          <p className="caption-print">What comes out differently</p>
          <Lines lines={differences} none="Nothing: it is judged the same." />
        </>
      )}
      <details>
        <summary className="min-h-11 cursor-pointer py-2">Its findings</summary>
        <Lines
          lines={verdict.findings.map((finding) => `${sayFinding(finding)}: ${sayConfidence(finding.confidence)}`)}
          none="None."
        />
      </details>
    </article>
  );
}

function Lines({ lines, none }: { readonly lines: readonly string[]; readonly none: string }) {
  if (lines.length === 0) return <p className="text-soft">{none}</p>;
  return (
    <ul className="list-disc space-y-1 pl-5">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

function titleOf({ under }: JudgedAgain): string {
  if (under === null) return "Under the thresholds kept with it";
  return under === "in-force" ? "Under the thresholds in force today" : `Under the proposal ${under.proposal}`;
}
