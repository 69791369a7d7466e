import { ChoiceList } from "@/app/_components/choice-list";
import { symptomLabels, symptoms } from "@/lib/returns/symptoms";
import { useAnswerForm } from "./use-answer-form";

export function AskSymptom() {
  const { register, errorOf, questionOf } = useAnswerForm();
  return (
    <ChoiceList
      id="symptom"
      type="radio"
      legend={questionOf("symptom")}
      legendLook="hidden"
      hint="Choose what comes nearest. Do not try it out to find out."
      error={errorOf("symptom")}
      choices={symptoms.map((value) => ({ value, label: symptomLabels[value] }))}
      control={register("symptom")}
    />
  );
}
