import { AnswerForm } from "@/app/_components/answer-form";
import { AskedChoices, AskedLong } from "@/app/_components/asked-fields";
import { KnowledgeFields } from "@/app/_components/knowledge-fields";
import type { IncidentView } from "@/lib/data/safety/incidents";
import { namedPatternLabels, namedPatterns } from "@/lib/safety/pattern-flags";
import { addKnowledgeAction, closeAction, determineAction, patternAction } from "../actions";

/** What more became known, a finding, a pattern, the end: each a form of its own, folded away until it is needed. */
export function KeepForms({ incident, mayKeep }: { incident: IncidentView; mayKeep: boolean }) {
  const reference = <input type="hidden" name="reference" value={incident.reference} />;
  return (
    <section aria-labelledby="keep" className="space-y-3">
      <h2 id="keep" className="border-b-2 border-ink pb-1">
        Add to the record
      </h2>
      <details className="card p-4">
        <summary className="min-h-11 cursor-pointer font-semibold">Something more became known</summary>
        <AnswerForm action={addKnowledgeAction} submit="Keep this">
          {reference}
          <KnowledgeFields />
        </AnswerForm>
      </details>
      {mayKeep ? (
        <>
          <details className="card p-4">
            <summary className="min-h-11 cursor-pointer font-semibold">
              The defect is found to be safety-related
            </summary>
            <AnswerForm action={determineAction} submit="Keep this finding in my name">
              {reference}
              <AskedLong
                name="note"
                id="determination"
                label="Who found it, and on what"
                hint="Clocks that begin with a finding start now."
                required
                rows={3}
              />
            </AnswerForm>
          </details>
          <details className="card p-4">
            <summary className="min-h-11 cursor-pointer font-semibold">It is part of a pattern</summary>
            <AnswerForm action={patternAction} submit="Keep this pattern in my name">
              {reference}
              <AskedChoices
                name="pattern"
                id="pattern"
                type="radio"
                legend="Pattern"
                choices={namedPatterns.map((value) => ({ value, label: namedPatternLabels[value] }))}
                control={{ required: true }}
              />
              <AskedLong name="note" id="pattern-note" label="What shows it" required rows={3} />
            </AnswerForm>
          </details>
          <details className="card p-4">
            <summary className="min-h-11 cursor-pointer font-semibold">Close the incident</summary>
            <AnswerForm action={closeAction} submit="Close it in my name" weight="danger">
              {reference}
              <AskedLong
                name="reason"
                id="closing"
                label="What was found, what was done, why the pack may be let go"
                hint="Every clock that may be running needs a final decision first."
                required
              />
            </AnswerForm>
          </details>
        </>
      ) : null}
    </section>
  );
}
