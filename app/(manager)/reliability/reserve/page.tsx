import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { DownloadLink } from "@/app/_components/download-link";
import { HouseFrame } from "@/app/_components/house-frame";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { readForecast } from "@/lib/data/reliability/failure-forecasts";
import { totalReturns, totalsIfFailures } from "@/lib/reliability/beside-forecast";
import { againSentence, ifFailuresTotalSentence, returnsSentence } from "@/lib/reliability/beside-sentences";
import { costCaveat, costSentence } from "@/lib/reliability/cost-sentences";
import { totalForecast } from "@/lib/reliability/forecast-total";
import { totalCost } from "@/lib/reliability/priced-forecast";
import { lagSentence } from "@/lib/reliability/reporting-lag";
import { beyondSentence, reserveCaveats, reserveSentence } from "@/lib/reliability/reserve-sentences";
import { COST_RULES_VERSION, COUNTING_RULES_VERSION, FORECAST_RULES_VERSION } from "@/lib/reliability/rule-version";
import { waitingTotal } from "@/lib/reliability/waiting-returns";
import { waitingSentence } from "@/lib/reliability/waiting-sentences";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { BesideTable } from "../beside-table";
import { CostMissing } from "../cost-missing";
import { ForecastNav } from "../forecast-nav";
import { LeftBeside } from "../left-beside";
import { NoCoverRules } from "../no-cover-rules";
import { ToldAnswer } from "../told-answer";
import { ReserveTable } from "./reserve-table";

export const metadata: Metadata = { title: "Until the end of cover" };

export default async function ReservePage() {
  const actor = await requireActor("read-forecast");
  const page = await readForecast(actor, civilDateAt(new Date(), "UTC"));
  if (page === null) notFound();
  const { revisions, beside, dataDate } = page;
  const total = totalForecast(revisions, "cover-end");
  const cost = totalCost(revisions, "cover-end");
  const mayReadRates = may(actor, "read-reliability");
  return (
    <HouseFrame actor={actor} current={mayReadRates ? "/reliability" : "/reliability/forecast"}>
      <div className="space-y-6">
        <ForecastNav actor={actor} current="/reliability/reserve" />
        <div className="flex flex-wrap items-baseline justify-between gap-x-8 gap-y-2">
          <h1>Until the end of cover: packs sold to date</h1>
          <p className="text-soft">
            All that was told up to <CalendarDay date={dataDate} />, rules {COUNTING_RULES_VERSION},{" "}
            {FORECAST_RULES_VERSION} and {COST_RULES_VERSION}
          </p>
        </div>
        <NoCoverRules hasRules={page.hasCoverRules || page.revisions.length === 0} />
        <ToldAnswer
          answer={[reserveSentence(total, revisions), ...(total === null ? [] : [costSentence(cost)])]}
          onTop={page.undecided === 0 ? "" : waitingSentence(page.undecided, waitingTotal(page.waiting))}
          caveats={[reserveCaveats(total), ...(total === null ? [] : [costCaveat(cost)])]}
        />
        <p className="max-w-4xl">{beyondSentence(revisions)}</p>
        <CostMissing revisions={revisions} />
        <ReserveTable revisions={revisions} total={total} cost={cost} dataDate={dataDate} linked={mayReadRates} />
        <section aria-labelledby="beside" className="space-y-3">
          <h2 id="beside">Beside the confirmed failures</h2>
          <p className="max-w-4xl">
            {returnsSentence(totalReturns(beside, "cover-end"), "until the end of their cover")}{" "}
            {againSentence(page.comeBack)}{" "}
            {ifFailuresTotalSentence(totalsIfFailures(revisions, beside, "cover-end"), beside, page.lawSettledDays)}
          </p>
          <BesideTable
            beside={beside}
            horizons={["cover-end"]}
            waitedDays={page.lawSettledDays}
            dataDate={dataDate}
            linked={mayReadRates}
          />
        </section>
        <p>
          <DownloadLink href="/reliability/reserve/export">These numbers as a table file (CSV)</DownloadLink>
        </p>
        <section aria-labelledby="grounds" className="max-w-4xl space-y-3">
          <h2 id="grounds">What is in these numbers, and what is not</h2>
          <p>
            For each pack sold and in use that has not failed yet: the chance that it fails before its own cover ends,
            given that it runs today, up to the oldest age at which what happened to packs of its revision is settled.{" "}
            {lagSentence(page.lag)}
          </p>
          <ul className="list-disc space-y-1 pl-5">
            <LeftBeside
              waiting={page.waiting}
              undecided={page.undecided}
              beside={beside}
              horizon="cover-end"
              until="until the end of their cover"
              linked={mayReadRates}
            />
            <li>Packs that will replace failed ones, and packs not sold yet, come on top.</li>
            <li>Nothing is discounted, and prices are those of today.</li>
          </ul>
        </section>
      </div>
    </HouseFrame>
  );
}
