import { QuestionForm } from "@/app/_components/question-form";
import { addDealerAction } from "./actions";

/** One more dealer; its first account is opened above, once it is there. */
export function AddDealer() {
  return (
    <section aria-labelledby="add-dealer" className="max-w-xl space-y-3">
      <h2 id="add-dealer">Add a dealer</h2>
      <p>
        Country and time zone decide which law, which rates and which day count for its returns. They are not changed
        later, so look twice: a workshop that moves to another country is added anew, under another code.
      </p>
      <QuestionForm
        id="dealer"
        action={addDealerAction}
        button="Add the dealer"
        questions={[
          { name: "code", label: "Code", hint: "Short, not used before, for example NORTH-2." },
          { name: "name", label: "Name of the workshop" },
          { name: "town", label: "Town" },
          { name: "country", label: "Country, two letters" },
          {
            name: "timeZone",
            label: "Time zone",
            choices: [
              { value: "", label: "Choose" },
              ...Intl.supportedValuesOf("timeZone").map((zone) => ({ value: zone, label: zone.replaceAll("_", " ") })),
            ],
          },
          { name: "joinedOn", label: "Sells our packs since", kind: "date" },
        ]}
      />
    </section>
  );
}
