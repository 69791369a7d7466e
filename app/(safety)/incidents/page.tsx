import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { DataTable } from "@/app/_components/data-table";
import { EmptyState } from "@/app/_components/empty-state";
import { HouseFrame } from "@/app/_components/house-frame";
import { LocalTime } from "@/app/_components/local-time";
import { Notice } from "@/app/_components/notice";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { listFirstSignals } from "@/lib/data/reliability/kept-signals";
import { listHolidays } from "@/lib/data/safety/clock-holidays";
import { type IncidentsPage, type IncidentView, listIncidents } from "@/lib/data/safety/incidents";
import { listUnsentDangers } from "@/lib/data/safety/unsent-dangers";
import { listed } from "@/lib/diagnosis/wording";
import { asksForDecision, clockStanding } from "@/lib/safety/clock-standing";
import { incidentFlagLabels } from "@/lib/safety/incident-flags";
import type { RunningClock } from "@/lib/safety/run-clocks";
import { countryName } from "@/lib/transport/country-name";
import { HolidaysPart } from "./holidays-part";
import { PatternsPart } from "./patterns-part";
import { SignalsPart } from "./signals-part";
import { UnsentPart } from "./unsent-part";

export const metadata: Metadata = { title: "Incidents" };

interface ListPageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function ListPage({ searchParams }: ListPageProps) {
  const actor = await requireActor("read-incidents");
  const isAll = (await searchParams).closed === "all";
  const now = new Date();
  const page = await listIncidents(actor, now, isAll ? "all" : undefined);
  if (page === null) notFound();
  const signals = await listFirstSignals(actor);
  return (
    <HouseFrame actor={actor} current="/incidents">
      <div className="space-y-8">
        <h1>Safety incidents, the most pressing first</h1>
        <Notice kind="caution" title="Clocks show what may be running, never whether a duty exists">
          <p>
            That is for counsel and a named person to say. Sentences marked “from memory” have not been compared with
            their source.
          </p>
          <nav aria-label="What incidents rest on" className="flex flex-wrap gap-x-5">
            {restsOn.map(({ href, label }) => (
              <Link key={href} href={href} className="inline-flex min-h-11 items-center underline underline-offset-4">
                {label}
              </Link>
            ))}
          </nav>
        </Notice>
        <UnsentPart unsent={await listUnsentDangers(actor)} />
        {page.open.length === 0 ? (
          <EmptyState title="No incident is open">
            <p>
              What a dealer tells after the return was sent, an event in a readings file, and every danger sign but one
              open one by themselves. A fall, a crash or water alone sets the pack apart and opens none.
            </p>
          </EmptyState>
        ) : (
          <IncidentTable caption="Open incidents" rows={page.open} now={now} />
        )}
        <PatternsPart patterns={page.patterns} />
        {signals === null ? null : <SignalsPart found={signals} />}
        {page.closed.length === 0 ? null : <IncidentTable caption={closedCaption(page)} rows={page.closed} now={now} />}
        {page.closed.length === page.closedCount ? null : (
          <p>
            <Link href="/incidents?closed=all">Show all {page.closedCount} closed incidents</Link>
          </p>
        )}
        <HolidaysPart holidays={await listHolidays(actor)} mayAdd={may(actor, "keep-incident")} />
      </div>
    </HouseFrame>
  );
}

const restsOn = [
  { href: "/transport-rules", label: "The transport rules and their confirmation" },
  { href: "/holidays", label: "Public holidays by country" },
  { href: "/reliability/affected/sets", label: "Packs held back" },
  { href: "/known-issues", label: "Known issues, and what they cover or stop" },
] as const;

function closedCaption({ closed, closedCount }: IncidentsPage): string {
  if (closed.length === closedCount) return "Closed incidents";
  return `Closed incidents: the last ${closed.length} of ${closedCount}`;
}

interface IncidentTableProps {
  readonly caption: string;
  readonly rows: readonly IncidentView[];
  readonly now: Date;
}

function IncidentTable({ caption, rows, now }: IncidentTableProps) {
  return (
    <DataTable
      entriesWhenNarrow
      caption={caption}
      columns={[
        {
          head: "Incident",
          cell: (row: IncidentView) => (
            <Link href={`/incidents/${row.reference}`}>
              <span className="whitespace-nowrap">{row.reference}</span>
            </Link>
          ),
        },
        { head: "What happened", cell: whatHappened },
        { head: "Known since", cell: (row) => <LocalTime at={row.state.firstKnown.at} /> },
        { head: "Next clock", cell: (row) => nextClock(row, now) },
        {
          head: "Pack",
          cell: ({ pack }) => (pack === null ? "Not named yet" : `${pack.serialShown}, ${pack.revisionCode}`),
        },
        {
          head: "Where",
          cell: (row) => `${row.dealer?.name ?? "At no dealer's"} (${row.state.countries.map(countryName).join(", ")})`,
        },
      ]}
      rows={rows}
      rowKey={(row) => row.reference}
      whenEmpty="None."
    />
  );
}

function whatHappened({ state }: IncidentView): string {
  if (state.flags.length === 0) return "Told in words: read them";
  return listed(state.flags.map((flag) => incidentFlagLabels[flag]));
}

function nextClock({ clocks, state }: IncidentView, now: Date) {
  if (state.closed !== null) return "Closed";
  const running = clocks.filter(({ state: runs }) => runs !== "waits-for-determination");
  const standing = ({ clock }: RunningClock) => clockStanding(clock, state.decisions.get(clock.id), now);
  const next = running.find((one) => asksForDecision(standing(one)));
  const investigated = running.find((one) => standing(one) === "investigated");
  if (next === undefined && investigated !== undefined) return <Investigated running={investigated} state={state} />;
  if (next === undefined) return "Every clock has a decision";
  if (next.endsAt === null) return `${next.clock.place}: every hour counts`;
  return (
    <>
      {next.clock.place}: {next.state === "over" ? "over since" : "until"} <LocalTime at={next.endsAt} />
    </>
  );
}

/** An investigation stops no clock: both days are shown. */
function Investigated({ running: { clock, endsAt }, state }: { running: RunningClock; state: IncidentView["state"] }) {
  const until = state.decisions.get(clock.id)?.until ?? null;
  return (
    <>
      {clock.place}: investigated {until === null ? "" : "until "}
      {until === null ? null : <CalendarDay date={until} />}
      {endsAt === null ? null : (
        <>
          ; the clock ends <LocalTime at={endsAt} />
        </>
      )}
    </>
  );
}
