import type { FormAnswer } from "@/app/_components/form-answer";
import { OneStepForm } from "@/app/_components/one-step-form";

export interface SettleButtonsProps {
  /** Names the proposal for the action. */
  readonly proposal: string;
  /** The same for those who hear the buttons without their row, as in "version 2027-01". */
  readonly spoken: string;
  readonly isOwnProposal: boolean;
  /** Who approves what one proposed, as in "another manager". */
  readonly another: string;
  readonly action: (before: FormAnswer, form: FormData) => Promise<FormAnswer>;
}

/** Approve or drop; whoever proposed is offered only the second, and told why. */
export function SettleButtons({ proposal, spoken, isOwnProposal, another, action }: SettleButtonsProps) {
  return (
    <div className="flex flex-wrap gap-3">
      {isOwnProposal ? (
        <p className="basis-full">You proposed this, so {another} approves it.</p>
      ) : (
        <OneStepForm
          action={action}
          hidden={{ proposal, verdict: "approved" }}
          button="Approve"
          spoken={`Approve ${spoken}`}
          weight="main"
        />
      )}
      <OneStepForm action={action} hidden={{ proposal, verdict: "dropped" }} button="Drop" spoken={`Drop ${spoken}`} />
    </div>
  );
}
