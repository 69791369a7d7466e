import { ChoiceList } from "@/app/_components/choice-list";
import { conditionLabels, conditions } from "@/lib/returns/conditions";
import { useAnswerForm } from "./use-answer-form";

export function AskConditions() {
  const { register, errorOf, questionOf } = useAnswerForm();
  return (
    <ChoiceList
      id="conditions"
      type="checkbox"
      legend={questionOf("conditions")}
      legendLook="hidden"
      hint="Choose all that apply. Leave all of them open if nobody knows."
      error={errorOf("conditions")}
      choices={conditions.map((value) => ({ value, label: conditionLabels[value] }))}
      control={register("conditions")}
    />
  );
}
