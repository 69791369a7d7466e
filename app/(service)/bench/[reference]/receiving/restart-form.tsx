import { AnswerForm } from "@/app/_components/answer-form";
import { AskedLong } from "@/app/_components/asked-fields";
import { restartWatchAction } from "./actions";

interface RestartFormProps {
  readonly reference: string;
  readonly isAlarm: boolean;
  readonly isMissed: boolean;
  readonly mayReceive: boolean;
  readonly mayJudge: boolean;
}

/** The way on after an alarm or a missed measurement: the watch begins anew, with a reason and a name. */
export function RestartForm({ reference, isAlarm, isMissed, mayReceive, mayJudge }: RestartFormProps) {
  if (!isAlarm && !isMissed) return null;
  if (isAlarm && !mayJudge) return <p>The safety officer, or a deputy, judges the alarm and begins the watch anew.</p>;
  if (!mayJudge && !mayReceive) return null;
  return (
    <AnswerForm action={restartWatchAction} submit="Begin the watch anew" weight="second">
      <input type="hidden" name="reference" value={reference} />
      <AskedLong
        name="why"
        id="restart-why"
        label={isAlarm ? "What was looked at, and why it may be watched further" : "Why a measurement was missed"}
        hint="What was measured before stays to be read and counts no more. A flag is lowered by itself, on the return."
        required
        rows={3}
      />
    </AnswerForm>
  );
}
