import { TextInput } from "./field";
import { type FoundBy, isWanted } from "./find-question";

interface QuestionFinderProps {
  readonly id: string;
  readonly label: string;
  readonly questions: readonly FoundBy[];
  readonly wanted: string;
  readonly onWanted: (wanted: string) => void;
}

/** Looks a question up by its words: what fits stands unfolded, the rest is out of sight. It is no answer and is not sent. */
export function QuestionFinder({ id, label, questions, wanted, onWanted }: QuestionFinderProps) {
  const asked = questions.filter(({ section }) => section !== undefined);
  const found = asked.filter((question) => isWanted(question, wanted)).length;
  return (
    <div className="space-y-2">
      <label htmlFor={id} className="block font-semibold">
        {label}
      </label>
      <TextInput
        id={id}
        type="search"
        autoComplete="off"
        value={wanted}
        onChange={(event) => onWanted(event.target.value)}
        onKeyDown={(event) => {
          // The form would be sent.
          if (event.key === "Enter") event.preventDefault();
        }}
      />
      <p role="status" className="text-soft">
        {wanted.trim() === "" ? `${asked.length} in all, by subject.` : `${found} of ${asked.length} found.`}
      </p>
    </div>
  );
}
