import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { DownloadLink } from "@/app/_components/download-link";
import { HouseFrame } from "@/app/_components/house-frame";
import { Notice } from "@/app/_components/notice";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { type RollForwardPage, readRollForward } from "@/lib/data/reliability/roll-forwards";
import { rollSentence } from "@/lib/reliability/roll-sentences";
import { COUNTING_RULES_VERSION, FORECAST_RULES_VERSION } from "@/lib/reliability/rule-version";
import { isCalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { ForecastNav } from "../../forecast-nav";
import { AgainTable } from "./again-table";
import { CameTable } from "./came-table";
import { StepsTable } from "./steps-table";

export const metadata: Metadata = { title: "A forecast against what came" };

interface RollForwardPageProps {
  readonly params: Promise<{ dataDate: string }>;
}

export default async function KeptForecastPage({ params }: RollForwardPageProps) {
  const actor = await requireActor("read-forecast");
  const { dataDate } = await params;
  if (!isCalendarDate(dataDate)) notFound();
  const page = await readRollForward(actor, dataDate, civilDateAt(new Date(), "UTC"));
  if (page === null) notFound();
  const linked = may(actor, "read-reliability");
  return (
    <HouseFrame actor={actor} current={linked ? "/reliability" : "/reliability/forecast"}>
      <div className="space-y-6">
        <ForecastNav actor={actor} current="/reliability/kept" />
        <div className="space-y-2">
          <h1>
            The forecast of <CalendarDay date={page.from} /> against what came
          </h1>
          <p className="text-soft">
            Kept by {page.keptByName} under {page.countingRules} and {page.forecastRules}; held against all that was
            told up to <CalendarDay date={page.to} />, {page.days} days later
          </p>
        </div>
        <p className="max-w-4xl text-xl font-semibold leading-snug">{rollSentence(page.revisions)}</p>
        <Changed page={page} />
        <NewSince revisions={page.revisions} />
        <CameTable revisions={page.revisions} from={page.from} currency={page.currency} linked={linked} />
        <StepsTable
          title="The reserve from then to now, in confirmed failures"
          currency={null}
          rows={page.revisions.map(({ group, failures, limits, told }) => ({
            ...{ group, limits, steps: failures },
            told: told.failures,
          }))}
          totalLimits={page.totalLimits.failures}
          linked={linked}
        />
        <StepsTable
          title={`The same in ${page.currency}`}
          currency={page.currency}
          rows={page.revisions.map(({ group, cost, costLimits, told }) => ({
            ...{ group, steps: cost, limits: costLimits },
            told: told.cost,
          }))}
          totalLimits={page.totalLimits.cost}
          linked={linked}
        />
        {page.again === null ? null : <AgainTable again={page.again} from={page.from} linked={linked} />}
        <p>
          <DownloadLink href={`/reliability/kept/${page.from}/export`}>
            These numbers as a table file (CSV)
          </DownloadLink>
        </p>
        <section aria-labelledby="grounds" className="max-w-4xl space-y-3">
          <h2 id="grounds">How to read it</h2>
          <ul className="list-disc space-y-1 pl-5">
            <li>
              Counted are the packs the forecast was about: sold by its day and without an open return then. Returns
              that were open then are in neither column.
            </li>
            <li>
              Returns take {page.meanLagDays.toFixed(1)} days to reach us on average, so what was to be expected is
              counted to so many days before the end.
            </li>
            <li>
              What arose is valued at the cost of one failure that was held then. What dealers have been paid stands
              beside it; our own work is on no ledger.
            </li>
            <li>
              Ages not seen then and seen now come into the reserve as a change of number; what could be told at one end
              alone as a change of what can be told. So the openings add up to what was kept, and the closings to the
              reserve of today. The limits of the sums are those of all revisions together; they are no sums of limits.
            </li>
          </ul>
        </section>
      </div>
    </HouseFrame>
  );
}

/** Revisions that came since: all that is to come of them is of packs sold since. */
function NewSince({ revisions }: Pick<RollForwardPage, "revisions">) {
  const since = revisions.filter(({ isNew }) => isNew).map(({ group }) => group);
  if (since.length === 0) return null;
  return (
    <p className="max-w-4xl">Not there yet when it was kept: {since.join(", ")}. They begin with nothing to come.</p>
  );
}

/** What has changed in the way of counting since, where anything has. */
function Changed({ page }: { readonly page: RollForwardPage }) {
  const rulesChanged = page.countingRules !== COUNTING_RULES_VERSION || page.forecastRules !== FORECAST_RULES_VERSION;
  if (!rulesChanged && !page.currencyChanged) return null;
  return (
    <Notice kind="caution" title="Not everything is counted as it was then">
      {rulesChanged ? (
        <p>
          Today's rules are {COUNTING_RULES_VERSION} and {FORECAST_RULES_VERSION}: part of the change of number comes
          from that.
        </p>
      ) : null}
      {page.currencyChanged ? (
        <p>
          Costs were told in {page.currency} then and are told in another currency now, so no cost is carried forward.
        </p>
      ) : null}
    </Notice>
  );
}
