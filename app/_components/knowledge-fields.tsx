import { knowledgeKindLabels, knowledgeKinds } from "@/lib/safety/first-knowledge";
import { incidentFlagLabels, incidentFlags } from "@/lib/safety/incident-flags";
import { ChoiceList } from "./choice-list";
import { Field, TextArea, TextInput } from "./field";
import { SelectInput } from "./select-input";

/** What became known of an incident: how, when, what, which signs, where. */
export function KnowledgeFields() {
  return (
    <>
      <Field id="how" label="How it became known">
        {(wiring) => (
          <SelectInput {...wiring} name="how" required>
            {knowledgeKinds.map((kind) => (
              <option key={kind} value={kind}>
                {knowledgeKindLabels[kind]}
              </option>
            ))}
          </SelectInput>
        )}
      </Field>
      <Field
        id="known-at"
        label="When anyone of this house first had it, UTC"
        hint="Where this is earlier than what is on record, the record begins earlier; a later time changes nothing of that."
      >
        {(wiring) => <TextInput {...wiring} name="knownAt" type="datetime-local" required className="max-w-72" />}
      </Field>
      <Field id="known-note" label="What was told or found">
        {(wiring) => <TextArea {...wiring} name="note" required rows={3} />}
      </Field>
      <ChoiceList
        id="flags"
        type="checkbox"
        legend="What happened"
        choices={incidentFlags.map((value) => ({ value, label: incidentFlagLabels[value] }))}
        control={{ name: "flags" }}
      />
      <Field id="country" label="A further country concerned" hint="Two letters, or nothing.">
        {(wiring) => <TextInput {...wiring} name="country" maxLength={2} />}
      </Field>
    </>
  );
}
