import { LocalTime } from "@/app/_components/local-time";
import { Stamp } from "@/app/_components/status-line";
import type { ProposedClassView } from "@/lib/data/transport/transport";
import { criteria, criterionAnswerLabels, criterionLabels, criterionLetters } from "@/lib/transport/criteria";
import { transportClassLabels } from "@/lib/transport/transport-class";
import { WorkSection } from "../bench-section";
import { classTones } from "./proposal-part";

/** What somebody of the bench found and proposes, until another named person declares. */
export function ProposedPart({ waiting, isOwn }: { waiting: ProposedClassView; isOwn: boolean }) {
  const { transportClass, proposedByName, proposedAt, reason, inEquipment, consignee } = waiting;
  const answerTo = (criterion: (typeof criteria)[number]) =>
    Object.entries(criterionAnswerLabels).find(([answer]) => answer === waiting.criteria[criterion])?.[1];
  return (
    <WorkSection title="Proposed at the bench, not declared yet">
      <p>
        <Stamp tone={classTones[transportClass]}>{transportClassLabels[transportClass]}</Stamp>
      </p>
      <p>
        {proposedByName}, <LocalTime at={proposedAt} />: {reason}
      </p>
      <ul className="list-disc space-y-1 pl-5">
        {criteria.map((criterion) => (
          <li key={criterion}>
            {criterionLetters[criterion]} {criterionLabels[criterion]}: {answerTo(criterion) ?? "no answer"}
          </li>
        ))}
        {inEquipment ? <li>It travels inside its equipment (UN 3481).</li> : null}
        {consignee === null ? null : <li>It goes to {consignee}.</li>}
      </ul>
      <p className="font-semibold">
        {isOwn ? "You proposed it, so another person declares the class." : "Nothing is printed or sent by a proposal."}
      </p>
    </WorkSection>
  );
}
