import { CalendarDay } from "@/app/_components/calendar-day";
import { FactList } from "@/app/_components/fact-list";
import { LocalTime } from "@/app/_components/local-time";
import { QuestionForm } from "@/app/_components/question-form";
import type { DealerOnRecord } from "@/lib/data/accounts/change-dealer";
import { countryName } from "@/lib/transport/country-name";
import { changeDealerAction } from "./actions";

/** Every dealer, with what it was called before and the way to another name. */
export function DealerList({ dealers }: { dealers: readonly DealerOnRecord[] }) {
  return (
    <section aria-labelledby="dealers" className="space-y-3">
      <h2 id="dealers">Dealers</h2>
      {dealers.length === 0 ? <p className="text-soft">No dealer is added yet.</p> : null}
      <ul className="grid gap-2 md:grid-cols-2">
        {dealers.map((dealer) => (
          <li key={dealer.code}>
            <details className="card">
              <summary className="min-h-12 cursor-pointer px-3 py-3">
                <span className="font-semibold">{dealer.name}</span>, {dealer.town}, {countryName(dealer.country)}
              </summary>
              <div className="space-y-4 border-t border-rule p-3">
                <DealerFacts dealer={dealer} />
                <QuestionForm
                  id={`dealer-${dealer.code}`}
                  action={changeDealerAction}
                  hidden={{ code: dealer.code, nameSeen: dealer.name, townSeen: dealer.town }}
                  button="Change the name or the town"
                  questions={[
                    { name: "name", label: "Name of the workshop", value: dealer.name },
                    { name: "town", label: "Town", value: dealer.town },
                    { name: "why", label: "Why?", hint: "For example: it was bought by its workers." },
                  ]}
                />
              </div>
            </details>
          </li>
        ))}
      </ul>
    </section>
  );
}

function DealerFacts({ dealer: { code, timeZone, joinedOn, changes } }: { dealer: DealerOnRecord }) {
  return (
    <>
      <FactList
        facts={[
          { term: "Code", detail: code },
          { term: "Time zone", detail: timeZone.replaceAll("_", " ") },
          { term: "Sells our packs since", detail: <CalendarDay date={joinedOn} /> },
        ]}
      />
      {changes.map(({ nameBefore, townBefore, why, changedByName, changedAt }) => (
        <p key={changedAt.toISOString()}>
          Until <LocalTime at={changedAt} /> it was {nameBefore}, {townBefore}. {changedByName}: <q dir="auto">{why}</q>
        </p>
      ))}
    </>
  );
}
