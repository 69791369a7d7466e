import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { QuestionForm } from "@/app/_components/question-form";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { listCosts, listModelCodes, readModelCosts } from "@/lib/data/reliability/cost-assumptions";
import { FEWEST_SETTLED } from "@/lib/reliability/part-cost";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { ForecastNav } from "../forecast-nav";
import { proposeCostAction } from "./actions";
import { CostList } from "./cost-list";
import { costQuestions } from "./cost-questions";
import { ModelCosts } from "./model-costs";
import { RatesPart } from "./rates-part";

export const metadata: Metadata = { title: "What a return costs" };

export default async function CostsPage() {
  const actor = await requireActor("read-forecast");
  const costs = await listCosts(actor);
  const page = await readModelCosts(actor, civilDateAt(new Date(), "UTC"));
  if (costs === null || page === null) notFound();
  const mayPropose = may(actor, "propose-cost");
  return (
    <HouseFrame actor={actor} current={may(actor, "read-reliability") ? "/reliability" : "/reliability/forecast"}>
      <div className="space-y-8">
        <ForecastNav actor={actor} current="/reliability/costs" />
        <div className="max-w-4xl space-y-2">
          <h1>What a return costs</h1>
          <p>
            Two parts: what a return takes us, and what its dealer is paid. The ledger knows only the second, so that
            part is worked out from it where {FEWEST_SETTLED} or more returns of one remedy and country are settled. All
            else is an assumption: dated, never edited, proposed by one manager and approved by another. Everything is
            told in {page.currency}. A return in which no failure is confirmed costs money too: as many as came beside
            the failures decided so far are counted with each failure to come, and a refund is a remedy like the others.
          </p>
        </div>
        <section className="space-y-6">
          <h2>One failure, model by model</h2>
          {page.models.map((one) => (
            <ModelCosts key={one.model} {...one} />
          ))}
        </section>
        <section className="space-y-4">
          <h2>What is assumed</h2>
          <CostList costs={costs} maySettle={may(actor, "approve-cost")} />
        </section>
        {mayPropose ? (
          <section className="space-y-4">
            <h2>Propose a cost</h2>
            <QuestionForm
              id="cost"
              action={proposeCostAction}
              questions={costQuestions(await listModelCodes(actor), page.currency)}
              button="Propose"
            />
          </section>
        ) : null}
        <RatesPart rates={page.rates} maySet={may(actor, "set-rates")} />
      </div>
    </HouseFrame>
  );
}
