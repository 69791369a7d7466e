import { LocalTime } from "@/app/_components/local-time";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { judgeCaseFlatness } from "@/lib/diagnosis/case-flatness";
import { sayFault, saySafetyClass } from "@/lib/diagnosis/fault-words";
import { mayNotBeMoved } from "@/lib/returns/safety-track";
import { BenchSection } from "./bench-section";
import { CaseForm } from "./case-form";

/** Is the case square? Asked with a straight-edge and set beside the value as built, because many are bowed from new. */
export function CasePart({ page, mayRead }: { page: BenchReturn; mayRead: boolean }) {
  const { reference, build, caseReadings, caseFinding } = page;
  const builtGapMillimetre = build?.caseGapMillimetre ?? null;
  const [newest] = caseReadings;
  return (
    <BenchSection title="Shape of the case">
      {newest === undefined ? (
        <p className="text-soft">
          Not read yet.{" "}
          {builtGapMillimetre === null
            ? "No gap was recorded when it was built."
            : `When it was built the gap was ${builtGapMillimetre.toFixed(1)} mm.`}
        </p>
      ) : caseFinding === null ? (
        <p>{judgeCaseFlatness({ builtGapMillimetre, foundGapMillimetre: newest.gapMillimetre }).sentence}</p>
      ) : (
        <div role="status" className="space-y-1 border-l-4 border-danger pl-3">
          <p className="font-semibold">
            {sayFault(caseFinding.fault)}. {saySafetyClass(caseFinding.safetyClass)}
          </p>
          {[...caseFinding.evidenceFor, ...caseFinding.evidenceAgainst].map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
          <p>{caseFinding.nextTest}</p>
          <p className="text-sm text-soft">
            Reading it again withdraws nothing: this counts until a named person has judged the pack and lowered its
            flag.
          </p>
        </div>
      )}
      {caseReadings.length === 0 ? null : (
        <ul className="text-sm">
          {caseReadings.map(({ gapMillimetre, readByName, readAt }) => (
            <li key={readAt.toISOString()}>
              {gapMillimetre.toFixed(1)} mm, {readByName}, <LocalTime at={readAt} />
            </li>
          ))}
        </ul>
      )}
      {mayNotBeMoved(page.next.handledAs) ? (
        <p className="font-semibold">Nobody lays a straight-edge on it now: look from a distance only.</p>
      ) : mayRead ? (
        <CaseForm reference={reference} />
      ) : null}
    </BenchSection>
  );
}
