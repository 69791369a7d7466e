import { CalendarDay } from "@/app/_components/calendar-day";
import { Stamp, type StatusTone } from "@/app/_components/status-line";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import type { CheckedIssue, IssueFit } from "@/lib/packs/revision-check";
import { BenchSection } from "./bench-section";

const fits: Readonly<Record<IssueFit["kind"], { words: string; tone: StatusTone }>> = {
  fits: { words: "Fits what was found", tone: "warn" },
  "does-not-fit": { words: "Something else was found", tone: "plain" },
  "nothing-found-yet": { words: "Nothing found for or against", tone: "plain" },
};

/** What the maker already knows of packs built like this one, and whether it is what was found here. */
export function KnownIssues({ known }: { known: BenchReturn["check"]["known"] }) {
  return (
    <BenchSection title="Known of packs like this one">
      <p>{known.sentence}</p>
      {known.kind === "no-known-issue" ? null : (
        <ul className="space-y-3">
          {known.issues.map((checked) => (
            <IssueCard key={`${checked.issue.title} ${checked.because}`} checked={checked} />
          ))}
        </ul>
      )}
    </BenchSection>
  );
}

function IssueCard({ checked: { issue, because, fit } }: { checked: CheckedIssue }) {
  const { words, tone } = fits[fit.kind];
  return (
    <li className="card space-y-2 p-3">
      <p className="font-semibold">{issue.title}</p>
      <Stamp tone={tone}>{words}</Stamp>
      <p className="text-sm text-soft">
        {because} {fit.sentence} Open since <CalendarDay date={issue.openedOn} />.
      </p>
      <p>
        <span className="caption-print block">What the maker asks to be done</span>
        {issue.action}
      </p>
      {issue.stopShip ? <p className="font-semibold text-danger">Packs concerned must not go out.</p> : null}
    </li>
  );
}
