import { AnswerForm } from "@/app/_components/answer-form";
import { LocalTime } from "@/app/_components/local-time";
import type { IncidentView } from "@/lib/data/safety/incidents";
import { incidentChecklist } from "@/lib/safety/incident-checklist";
import { sayMark } from "@/lib/transport/sourced-text";
import { tickAction } from "../actions";

/** What is done once an incident is open; each line by a named person. */
export function ChecklistPart({ incident, mayKeep }: { incident: IncidentView; mayKeep: boolean }) {
  return (
    <section aria-labelledby="checklist" className="space-y-3">
      <h2 id="checklist" className="border-b-2 border-ink pb-1">
        To be done
      </h2>
      <ol className="list-decimal space-y-4 pl-5">
        {incidentChecklist.map(({ id, text, mark }) => {
          const done = incident.state.checked.get(id);
          return (
            <li key={id}>
              {text} <span className="text-sm text-soft">[{sayMark(mark)}]</span>
              {done === undefined ? null : (
                <p className="font-semibold">
                  Done: {done.byName}, <LocalTime at={done.at} />
                </p>
              )}
              {done === undefined && mayKeep ? (
                <AnswerForm action={tickAction} submit="This is done" weight="second">
                  <input type="hidden" name="reference" value={incident.reference} />
                  <input type="hidden" name="line" value={id} />
                </AnswerForm>
              ) : null}
              {done === undefined && !mayKeep ? <p className="text-soft">Open</p> : null}
            </li>
          );
        })}
      </ol>
    </section>
  );
}
