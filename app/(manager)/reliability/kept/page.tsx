import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { HouseFrame } from "@/app/_components/house-frame";
import { LocalTime } from "@/app/_components/local-time";
import { OneStepForm } from "@/app/_components/one-step-form";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { type KeptForecast, listKeptForecasts } from "@/lib/data/reliability/kept-forecasts";
import { sayCost } from "@/lib/reliability/cost-sentences";
import { sayExpected } from "@/lib/reliability/forecast-sentences";
import { grouped } from "@/lib/reliability/plain-share";
import { ForecastNav } from "../forecast-nav";
import { keepForecastAction } from "./actions";

export const metadata: Metadata = { title: "Forecasts kept" };

const columns: readonly Column<KeptForecast>[] = [
  {
    head: "Data date",
    cell: ({ dataDate }) => (
      <Link
        href={`/reliability/kept/${dataDate}`}
        prefetch={false}
        className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
      >
        <CalendarDay date={dataDate} />
      </Link>
    ),
  },
  {
    head: "Failures until the end of cover",
    cell: ({ total }) => (
      <div className="min-w-48">
        {total === null
          ? "could not be told"
          : `${sayExpected(total.expected)}, between ${grouped(total.lower)} and ${grouped(total.upper)}`}
      </div>
    ),
  },
  {
    head: "Their cost",
    cell: ({ cost }) => <div className="min-w-56">{cost === null ? "could not be told" : sayCost(cost)}</div>,
  },
  { head: "Rules", cell: ({ countingRules, forecastRules }) => `${countingRules}, ${forecastRules}` },
  {
    head: "Kept by",
    cell: ({ keptByName, keptAt }) => (
      <>
        {keptByName}, <LocalTime at={keptAt} />
      </>
    ),
  },
];

export default async function KeptForecastsPage() {
  const actor = await requireActor("read-forecast");
  const forecasts = await listKeptForecasts(actor);
  if (forecasts === null) notFound();
  return (
    <HouseFrame actor={actor} current={may(actor, "read-reliability") ? "/reliability" : "/reliability/forecast"}>
      <div className="space-y-6">
        <ForecastNav actor={actor} current="/reliability/kept" />
        <div className="max-w-4xl space-y-2">
          <h1>Forecasts kept</h1>
          <p>
            A forecast that is kept stays as it was on its day, so that what happens can be held against it. Open one to
            see how its reserve became that of today, and whether what came lay within its limits.
          </p>
        </div>
        {may(actor, "keep-forecast") ? (
          <OneStepForm
            action={keepForecastAction}
            hidden={{}}
            button="Keep the forecast of today"
            spoken="Keep the forecast of today"
            weight="main"
          />
        ) : (
          <p className="text-soft">Forecasts are kept by managers.</p>
        )}
        <DataTable
          entriesWhenNarrow
          caption="Forecasts kept, the newest first, with 95 % limits of their day"
          columns={columns}
          rows={forecasts}
          rowKey={({ dataDate }) => dataDate}
          whenEmpty="No forecast is kept yet, so there is nothing to hold what happens against."
        />
      </div>
    </HouseFrame>
  );
}
