import { AnswerForm } from "@/app/_components/answer-form";
import { AskedChoices, AskedLong, AskedSelect } from "@/app/_components/asked-fields";
import type { TransportView } from "@/lib/data/transport/transport";
import {
  criteria,
  criterionAnswerLabels,
  criterionAnswers,
  criterionLabels,
  criterionLetters,
} from "@/lib/transport/criteria";
import { transportClasses, transportClassLabels } from "@/lib/transport/transport-class";
import { declareClassAction, proposeClassAction } from "./actions";

interface DeclareFormProps {
  readonly transport: TransportView;
  /** Whoever may not declare proposes, by the same questions. */
  readonly mayDeclare: boolean;
}

/**
 * A named person declares, or proposes: what was looked at under each criterion, the class, and what it rests on. What was proposed
 * stands above and is not filled in: whoever declares has looked.
 */
export function DeclareForm({ transport, mayDeclare }: DeclareFormProps) {
  return (
    <AnswerForm
      action={mayDeclare ? declareClassAction : proposeClassAction}
      submit={mayDeclare ? "Declare this class in my name" : "Propose this class in my name"}
    >
      <input type="hidden" name="reference" value={transport.reference} />
      <input type="hidden" name="leg" value={transport.leg} />
      <input type="hidden" name="seenDeclarations" value={transport.declarations} />
      <p className="text-soft">
        Say for each criterion of special provision 376 what was found. “Not damaged” needs each of them examined.
      </p>
      {criteria.map((criterion) => (
        <AskedSelect
          key={criterion}
          name={`criterion-${criterion}`}
          label={`${criterionLetters[criterion]} ${criterionLabels[criterion]}`}
          defaultValue="not-examined"
        >
          {criterionAnswers.map((answer) => (
            <option key={answer} value={answer}>
              {criterionAnswerLabels[answer]}
            </option>
          ))}
        </AskedSelect>
      ))}
      <AskedChoices
        name="transportClass"
        id="transport-class"
        type="radio"
        legend="Class"
        choices={transportClasses.map((value) => ({ value, label: transportClassLabels[value] }))}
        control={{ required: true }}
      />
      <label className="flex min-h-12 items-center gap-3">
        <input type="checkbox" name="inEquipment" value="yes" className="size-6 accent-accent" />
        It travels inside its equipment (UN 3481)
      </label>
      {transport.leg === "to-supplier" ? (
        <AskedLong
          name="consignee"
          label="Name and address of the supplier"
          required
          maxLength={400}
          defaultValue={transport.consignee ?? ""}
        />
      ) : null}
      <AskedLong name="reason" label="What the class rests on" required minLength={10} maxLength={2000} />
    </AnswerForm>
  );
}
