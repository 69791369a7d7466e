import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { IntervalPlot } from "@/app/_components/charts/interval-plot";
import { DownloadLink } from "@/app/_components/download-link";
import { HouseFrame } from "@/app/_components/house-frame";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { readForecast } from "@/lib/data/reliability/failure-forecasts";
import { totalReturns, totalsIfFailures } from "@/lib/reliability/beside-forecast";
import { againSentence, ifFailuresTotalSentence, returnsSentence } from "@/lib/reliability/beside-sentences";
import { costCaveat, costSentence } from "@/lib/reliability/cost-sentences";
import { FORECAST_MONTHS } from "@/lib/reliability/cover-forecast";
import { forecastCaveats, forecastSentence } from "@/lib/reliability/forecast-sentences";
import { totalForecast } from "@/lib/reliability/forecast-total";
import { totalCost } from "@/lib/reliability/priced-forecast";
import { confirmationSentence, lagSentence } from "@/lib/reliability/reporting-lag";
import { COUNTING_RULES_VERSION, FORECAST_RULES_VERSION } from "@/lib/reliability/rule-version";
import { waitingTotal } from "@/lib/reliability/waiting-returns";
import { waitingSentence } from "@/lib/reliability/waiting-sentences";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { BesideTable } from "../beside-table";
import { CostMissing } from "../cost-missing";
import { ForecastNav } from "../forecast-nav";
import { LeftBeside } from "../left-beside";
import { NoCoverRules } from "../no-cover-rules";
import { ToldAnswer } from "../told-answer";
import { ForecastGrounds } from "./forecast-grounds";
import { ForecastTable } from "./forecast-table";

export const metadata: Metadata = { title: "Failures to come" };

/** The horizon that is drawn; the table has all. Engineering default, no authority. */
const DRAWN_MONTHS = 6;

export default async function ForecastPage() {
  const actor = await requireActor("read-forecast");
  const page = await readForecast(actor, civilDateAt(new Date(), "UTC"));
  if (page === null) notFound();
  const { dataDate, revisions, beside } = page;
  const totals = FORECAST_MONTHS.map((months) => ({
    months,
    total: totalForecast(revisions, months),
    cost: totalCost(revisions, months),
  }));
  const drawn = totals.find(({ months }) => months === DRAWN_MONTHS);
  return (
    <HouseFrame actor={actor} current={may(actor, "read-reliability") ? "/reliability" : "/reliability/forecast"}>
      <div className="space-y-6">
        <ForecastNav actor={actor} current="/reliability/forecast" />
        <div className="flex flex-wrap items-baseline justify-between gap-x-8 gap-y-2">
          <h1>Failures to come</h1>
          <p className="text-soft">
            All that was told up to <CalendarDay date={dataDate} />, rules {COUNTING_RULES_VERSION} and{" "}
            {FORECAST_RULES_VERSION}
          </p>
        </div>
        <ToldAnswer
          answer={[forecastSentence(drawn?.total ?? null, DRAWN_MONTHS), costSentence(drawn?.cost ?? null)]}
          onTop={page.undecided === 0 ? "" : waitingSentence(page.undecided, waitingTotal(page.waiting))}
          caveats={[forecastCaveats(drawn?.total ?? null), costCaveat(drawn?.cost ?? null)]}
        />
        <NoCoverRules hasRules={page.hasCoverRules || revisions.length === 0} />
        <CostMissing revisions={revisions} />
        <IntervalPlot
          id="forecast"
          title={`Confirmed failures to be expected in the next ${DRAWN_MONTHS} months, by revision`}
          sentence="Each square is the number to expect by the rates as they were fitted, each line runs from the lower to the upper 95 % limit. Chance and doubt about the rates are both in the limits, so a square need not lie midway."
          axis={`confirmed failures in the next ${DRAWN_MONTHS} months`}
          rows={revisions.map(({ group, forecasts }) => {
            const one = forecasts.find(({ months }) => months === DRAWN_MONTHS);
            return {
              name: group,
              interval: one?.kind === "forecast" ? { value: one.expected, lower: one.lower, upper: one.upper } : null,
            };
          })}
        />
        <ForecastTable
          revisions={revisions}
          totals={totals}
          dataDate={dataDate}
          lawSettledDays={page.lawSettledDays}
          linked={may(actor, "read-reliability")}
        />
        <section aria-labelledby="beside" className="space-y-3">
          <h2 id="beside">Beside the confirmed failures</h2>
          <p className="max-w-4xl">
            {returnsSentence(totalReturns(beside, DRAWN_MONTHS), `in the next ${DRAWN_MONTHS} months`)}{" "}
            {againSentence(page.comeBack)}{" "}
            {ifFailuresTotalSentence(totalsIfFailures(revisions, beside, DRAWN_MONTHS), beside, page.lawSettledDays)}
          </p>
          <BesideTable
            beside={beside}
            horizons={FORECAST_MONTHS}
            waitedDays={page.lawSettledDays}
            dataDate={dataDate}
            linked={may(actor, "read-reliability")}
          />
        </section>
        <p>
          <DownloadLink href="/reliability/forecast/export">These numbers as a table file (CSV)</DownloadLink>
        </p>
        <ForecastGrounds
          unsold={page.unsold}
          lagWords={`${lagSentence(page.lag)} ${confirmationSentence(page.confirmation)}`}
        >
          <LeftBeside
            waiting={page.waiting}
            undecided={page.undecided}
            beside={beside}
            horizon={DRAWN_MONTHS}
            until={`in the next ${DRAWN_MONTHS} months`}
            linked={may(actor, "read-reliability")}
          />
        </ForecastGrounds>
      </div>
    </HouseFrame>
  );
}
