import { useEffect } from "react";
import { Button } from "@/app/_components/button";
import { DateField } from "./date-field";
import { useAnswerForm } from "./use-answer-form";

export function AskDates({ today }: { today: string | undefined }) {
  const { getValues, setValue } = useAnswerForm();

  useEffect(() => {
    if (today !== undefined && getValues("toldOn") === "") setValue("toldOn", today);
  }, [today, getValues, setValue]);

  return (
    <>
      <DateField
        answer="toldOn"
        label="Day the customer told you"
        hint="Today is filled in. Change it if they told you earlier: that day counts for the cover."
        today={today}
      />
      <DateField
        answer="noticedOn"
        label="Day the customer first noticed it"
        hint="As near as they can say."
        today={today}
      />
      <Button weight="second" onClick={() => setValue("noticedOn", getValues("toldOn"), { shouldValidate: true })}>
        They noticed it the day they told me
      </Button>
    </>
  );
}
