import { knowledgeKindLabels, knowledgeKinds } from "@/lib/safety/first-knowledge";
import { incidentFlagLabels, incidentFlags } from "@/lib/safety/incident-flags";
import { AskedChoices, AskedLong, AskedSelect, AskedText } from "./asked-fields";
import { SignsQuestion } from "./signs-question";

/** What became known of an incident: how, when, what, which signs, where. */
export function KnowledgeFields() {
  return (
    <>
      <AskedSelect name="how" label="How it became known" required>
        {knowledgeKinds.map((kind) => (
          <option key={kind} value={kind}>
            {knowledgeKindLabels[kind]}
          </option>
        ))}
      </AskedSelect>
      <AskedText
        name="knownAt"
        id="known-at"
        label="When anyone of this house first had it, UTC"
        hint="Where this is earlier than what is on record, the record begins earlier; a later time changes nothing of that."
        type="datetime-local"
        required
        className="max-w-72"
      />
      <AskedLong name="note" id="known-note" label="What was told or found" required rows={3} />
      <SignsQuestion words="note" signs="flags" list="incident" />
      <AskedChoices
        name="flags"
        id="flags"
        type="checkbox"
        legend="What happened"
        choices={incidentFlags.map((value) => ({ value, label: incidentFlagLabels[value] }))}
      />
      <AskedText name="country" label="A further country concerned" hint="Two letters, or nothing." maxLength={2} />
    </>
  );
}
