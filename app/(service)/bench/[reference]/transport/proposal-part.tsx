import { CalendarDay } from "@/app/_components/calendar-day";
import { Stamp } from "@/app/_components/status-line";
import type { RulesInForce } from "@/lib/data/transport/transport-rules";
import { criterionLabels, criterionLetters } from "@/lib/transport/criteria";
import type { ClassProposal } from "@/lib/transport/propose-class";
import { type TransportClass, transportClassLabels } from "@/lib/transport/transport-class";
import { WorkSection } from "../bench-section";

export const classTones = {
  "do-not-ship": "danger",
  damaged: "warn",
  "not-damaged": "plain",
} as const satisfies Record<TransportClass, string>;

/** What the program proposes, why, and what it could not know. */
export function ProposalPart({ proposal, rules }: { proposal: ClassProposal; rules: RulesInForce }) {
  const { transportClass, reasons, criteria, notDiagnosed } = proposal;
  return (
    <WorkSection title="Proposed class">
      <p>
        <Stamp tone={classTones[transportClass]}>{transportClassLabels[transportClass]}</Stamp>
      </p>
      <p>{rules.rules.meanings[transportClass].text}</p>
      <ul className="list-disc space-y-1 pl-5">
        {reasons.map((reason) => (
          <li key={reason}>{reason}</li>
        ))}
      </ul>
      {criteria.length === 0 ? null : (
        <p>
          Criteria of special provision 376 that something speaks to:{" "}
          {criteria.map((one) => `${criterionLetters[one]} ${criterionLabels[one].toLowerCase()}`).join("; ")}.
        </p>
      )}
      {notDiagnosed.length === 0 ? null : (
        <p className="font-semibold">Until that is known it cannot be called “not damaged”.</p>
      )}
      <p className="text-soft">
        Rules of version {rules.version}, in force since <CalendarDay date={rules.validFrom} />, owned by {rules.owner};{" "}
        {rules.confirmation === null
          ? "not confirmed by the adviser yet, so no pack can be called “not damaged” under them."
          : `confirmed by ${rules.confirmation.adviserName} (${rules.confirmation.adviserQualification}), recorded by ${rules.confirmation.recordedByName}.`}
      </p>
    </WorkSection>
  );
}
