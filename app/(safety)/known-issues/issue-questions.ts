import type { FormQuestion } from "@/app/_components/question-form";
import type { IssueView } from "@/lib/data/safety/list-issues";
import { sayFault } from "@/lib/diagnosis/fault-words";
import { faults, type Remedy, remedies } from "@/lib/diagnosis/finding";

const remedyChoices: Readonly<Record<Remedy, string>> = {
  "remote-fix": "put right from afar",
  repair: "repair",
  replace: "replace",
  isolate: "set apart",
  "return-as-is": "give back as it is",
  "cannot-tell": "test first",
};

const notAsked = { value: "", label: "none named" };
const faultChoices = [
  notAsked,
  ...faults.filter((fault) => fault !== "no-fault-found").map((fault) => ({ value: fault, label: sayFault(fault) })),
];
const yesOrNo = (yes: string, no: string) => [
  { value: "", label: "Choose" },
  { value: "yes", label: yes },
  { value: "no", label: no },
];
const asAnswer = (flag: boolean | undefined) => (flag === undefined ? "" : flag ? "yes" : "no");

/** The questions of a known issue; filled with the words of the one whose place it takes. */
export function issueQuestions(before: IssueView | null): readonly FormQuestion[] {
  const bench = "For the bench";
  return [
    {
      name: "title",
      label: "What is wrong with these packs",
      hint: "One line. Every dealer who looks up such a pack reads it, so no names of customers.",
      value: before?.title ?? "",
    },
    {
      name: "action",
      label: "What is to be done",
      hint: "The dealer reads it at the counter, the bench beside the findings. Where somebody may get hurt: first what not to do.",
      kind: "long",
      rows: 4,
      value: before?.action ?? "",
    },
    {
      name: "coversWhateverTheDate",
      label: "The maker's guarantee for these packs",
      choices: yesOrNo("covers them whatever the date", "counts by its dates as before"),
      value: asAnswer(before?.coversWhateverTheDate),
    },
    {
      name: "stopShip",
      label: "Packs like these",
      choices: yesOrNo("do not go out: not as a replacement, on loan or back", "may go out as before"),
      value: asAnswer(before?.stopShip),
    },
    { name: "validFrom", label: "First day", hint: "Today or later, on the calendar of UTC.", kind: "date" },
    {
      name: "fault",
      label: "What it shows itself as",
      section: bench,
      choices: faultChoices,
      value: before?.faults[0] ?? "",
    },
    { name: "otherFault", label: "or as", section: bench, choices: faultChoices, value: before?.faults[1] ?? "" },
    {
      name: "suggestedRemedy",
      label: "What usually puts it right",
      section: bench,
      choices: [notAsked, ...remedies.map((remedy) => ({ value: remedy, label: remedyChoices[remedy] }))],
      value: before?.suggestedRemedy ?? "",
    },
    {
      name: "why",
      label: "Why",
      hint: "What it rests on: returns, tests, a supplier's word. The approver has only this.",
      kind: "long",
    },
  ];
}
