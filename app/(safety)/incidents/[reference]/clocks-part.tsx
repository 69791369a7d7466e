import { writtenDay } from "@/app/_components/calendar-day";
import { LocalTime } from "@/app/_components/local-time";
import { markedLines } from "@/app/_components/marked-lines";
import { MarkedList } from "@/app/_components/marked-list";
import { Notice } from "@/app/_components/notice";
import { Stamp } from "@/app/_components/status-line";
import type { IncidentView } from "@/lib/data/safety/incidents";
import { asksForDecision, clockStanding } from "@/lib/safety/clock-standing";
import { reportingDecisionLabels } from "@/lib/safety/incident-decision";
import { reportingClocks } from "@/lib/safety/reporting-clocks";
import { countriesWithoutClock, type RunningClock } from "@/lib/safety/run-clocks";
import { countryName } from "@/lib/transport/country-name";
import { DecideForm } from "./decide-form";

const states: Readonly<Record<RunningClock["state"], { tone: "danger" | "warn" | "plain"; words: string }>> = {
  over: { tone: "danger", words: "The time is over" },
  "every-hour-counts": { tone: "danger", words: "Every hour counts" },
  "time-left": { tone: "warn", words: "Running" },
  "waits-for-determination": { tone: "plain", words: "Begins with a finding" },
};

/** Every clock that may be running, with its source, its end, and what a named person decided. */
export function ClocksPart({ incident, mayKeep }: { incident: IncidentView; mayKeep: boolean }) {
  const unheld = countriesWithoutClock(reportingClocks, incident.state.countries);
  return (
    <section aria-labelledby="clocks" className="min-w-0 space-y-4">
      <h2 id="clocks" className="border-b-2 border-ink pb-1">
        Clocks that may be running
      </h2>
      <p className="text-soft">
        Version {reportingClocks.version}, owned by {reportingClocks.owner}. Which law holds depends on what the pack is
        in each country, bicycle product or vehicle equipment: counsel says.
      </p>
      {unheld.length === 0 ? null : (
        <Notice kind="caution" title={`No clock is held for ${unheld.map(countryName).join(", ")}: ask counsel`}>
          <p>
            That says nothing about whether a duty to report exists there, or how short its time is. What counsel said
            is kept below, and the incident is not closed before.
          </p>
        </Notice>
      )}
      {incident.clocks.map((running) => (
        <ClockCard key={running.clock.id} running={running} incident={incident} mayKeep={mayKeep} />
      ))}
    </section>
  );
}

interface ClockCardProps {
  readonly running: RunningClock;
  readonly incident: IncidentView;
  readonly mayKeep: boolean;
}

function ClockCard({ running, incident, mayKeep }: ClockCardProps) {
  const { clock, mayRunSince, endsAt } = running;
  const decided = incident.state.decisions.get(clock.id);
  const overtaken = incident.state.overtaken.get(clock.id);
  const standing = clockStanding(clock, decided, new Date());
  const { tone, words } = states[running.state];
  return (
    <article className="card space-y-3 p-4">
      <h3>
        {clock.place}: {clock.name}
      </h3>
      <p className="flex flex-wrap items-center gap-3">
        <Stamp tone={asksForDecision(standing) ? tone : standing === "investigated" ? "warn" : "plain"}>
          {decided === undefined || asksForDecision(standing) ? words : reportingDecisionLabels[decided.decision]}
        </Stamp>
        {mayRunSince === null ? null : (
          <span>
            May be running since <LocalTime at={mayRunSince} />
          </span>
        )}
        {endsAt === null ? null : (
          <span>
            {endsAt < new Date() ? "ended" : "ends"} <LocalTime at={endsAt} />
          </span>
        )}
      </p>
      <MarkedList lines={markedLines([clock.trigger, clock.limitInWords])} />
      <p className="text-soft">
        To: {clock.authority}. Days are counted by the clock of {placeOfZone(clock.zone)}.
      </p>
      {overtaken === undefined ? null : (
        <Notice kind="caution" title="More became known after this was decided: decide it anew">
          <p>
            Then: {reportingDecisionLabels[overtaken.decision]}, by {overtaken.byName} on{" "}
            <LocalTime at={overtaken.at} />.
          </p>
        </Notice>
      )}
      {standing === "investigation-over" ? (
        <Notice kind="caution" title="The day set for more investigation is over: decide it anew">
          <p>The clock has gone on meanwhile. The safety officer is called again every day until it is decided.</p>
        </Notice>
      ) : null}
      {decided === undefined ? null : (
        <p>
          {reportingDecisionLabels[decided.decision]}
          {decided.until === null ? "" : ` (${writtenDay(decided.until)})`}, decided by {decided.byName} on{" "}
          <LocalTime at={decided.at} />: {decided.reason} Advice: {decided.lawyerReference}.
        </p>
      )}
      {mayKeep ? (
        <details>
          <summary className="min-h-11 cursor-pointer font-semibold">
            {decided === undefined ? "Record a decision" : "Record a further decision"}
          </summary>
          <DecideForm
            reference={incident.reference}
            clockId={clock.id}
            seenEntries={incident.entries.at(-1)?.sequence ?? 0}
          />
        </details>
      ) : null}
    </article>
  );
}

/** "Sydney" of Australia/Sydney, "New York" of America/New_York; UTC as it is. */
function placeOfZone(zone: string): string {
  return zone.slice(zone.lastIndexOf("/") + 1).replaceAll("_", " ");
}
