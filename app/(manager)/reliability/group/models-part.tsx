import { writtenDay } from "@/app/_components/calendar-day";
import { SurvivalChart } from "@/app/_components/charts/survival-chart";
import { SurvivalTable } from "@/app/_components/charts/survival-table";
import type { GroupPage } from "@/lib/data/reliability/group-page";
import { lawSentence } from "@/lib/reliability/law-sentences";
import { packListHref } from "../packs/pack-list-address";

/** Curve, shares and law of each model of a group that has packs of several. */
export function ModelsPart({ page }: { readonly page: GroupPage }) {
  const { by, line, dataDate, byModel, lag } = page;
  const reports = byModel.map((one) => one.line);
  return (
    <div className="space-y-4">
      <SurvivalChart
        id="model-curves"
        title={`${line.group}: share of packs failed by age, each model by itself, up to ${writtenDay(dataDate)}`}
        reports={reports}
        highlighted={byModel.map(({ model }) => model)}
      />
      <SurvivalTable
        caption={`${line.group} by model, up to ${writtenDay(dataDate)}`}
        nameHead="Model"
        reports={reports}
        hrefOf={(model, list, filter) => packListHref(by, line.group, list, { ...filter, model })}
        allowsForDelay={lag.kind === "lag"}
      />
      <ul className="max-w-4xl list-disc space-y-1 pl-5">
        {byModel.map(({ model, life }) => (
          <li key={model}>
            Model {model}: {lawSentence(life.model)}
          </li>
        ))}
      </ul>
    </div>
  );
}
