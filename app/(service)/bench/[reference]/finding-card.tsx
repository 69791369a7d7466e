import { Minus, Plus } from "lucide-react";
import type { ReactNode } from "react";
import { nextTestCaution } from "@/lib/bench-tests/next-test-caution";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { sayConfidenceOf } from "@/lib/diagnosis/confidence-words";
import { sayFault, saySafetyClass } from "@/lib/diagnosis/fault-words";
import { findingTitles } from "@/lib/diagnosis/rivals";
import { inPrint } from "@/lib/diagnosis/wording";
import { DEFERRAL } from "@/lib/returns/handling-caution";

type Finding = NonNullable<BenchReturn["readings"]>["findings"][number];

/** In place of five lines that the reader has just read: said three times over, a caution is read no more. */
const SAME_CAUTION =
  "High-energy direct current that cannot be switched off: the caution of the test above holds here too.";

/** One finding of the list with what speaks for it and against it, and the test that would settle it. */
export function FindingCard({ findings, place }: { findings: readonly Finding[]; place: number }) {
  const finding = findings[place];
  if (finding === undefined) return null;
  const { title, testTitle } = findingTitles(findings, place);
  const { fault, groups, safetyClass, evidenceFor, evidenceAgainst, nextTest } = finding;
  const caution = nextTestCaution(fault);
  const isSaidAbove = findings
    .slice(0, place)
    .some((above) => above.nextTest !== "" && nextTestCaution(above.fault) === caution);
  return (
    <li className={`card p-4 ${place === 0 ? "border-2 border-accent" : ""}`}>
      <p className="caption-print">{title}</p>
      <h4 className="text-lg font-bold">
        {sayFault(fault)}
        {groups.length === 0 ? null : <span className="font-semibold">, {sayGroups(groups)}</span>}
      </h4>
      <p>
        <strong>{sayConfidenceOf(finding)}.</strong> {saySafetyClass(safetyClass)}
      </p>
      <Evidence title="Speaks for it" sentences={evidenceFor.map(inPrint)} sign={<Plus aria-hidden size={18} />} />
      <Evidence
        title="Speaks against it"
        sentences={evidenceAgainst.map(inPrint)}
        sign={<Minus aria-hidden size={18} />}
      />
      {nextTest === "" ? null : (
        <div className="mt-3 border-l-4 border-accent pl-3">
          <p className="caption-print">{testTitle}</p>
          {caution === null ? null : (
            <p className="text-sm font-semibold text-warn">{isSaidAbove ? SAME_CAUTION : caution}</p>
          )}
          {safetyClass === "C" || isSaidAbove ? null : <p className="text-sm font-semibold text-warn">{DEFERRAL}</p>}
          <p>{inPrint(nextTest)}</p>
        </div>
      )}
    </li>
  );
}

function Evidence({ title, sentences, sign }: { title: string; sentences: readonly string[]; sign: ReactNode }) {
  return (
    <div className="mt-3">
      <p className="caption-print">{title}</p>
      {sentences.length === 0 ? <p className="text-soft">Nothing in these readings</p> : null}
      <ul className="space-y-1">
        {sentences.map((sentence) => (
          <li key={sentence} className="flex items-start gap-2">
            <span className="mt-1 shrink-0 text-soft">{sign}</span>
            {sentence}
          </li>
        ))}
      </ul>
    </div>
  );
}

function sayGroups(groups: readonly number[]): string {
  return `${groups.length === 1 ? "group" : "groups"} ${groups.join(", ")}`;
}
