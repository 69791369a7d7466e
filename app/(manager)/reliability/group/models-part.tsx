import { writtenDay } from "@/app/_components/calendar-day";
import { SurvivalChart } from "@/app/_components/charts/survival-chart";
import { SurvivalTable } from "@/app/_components/charts/survival-table";
import { type Column, DataTable } from "@/app/_components/data-table";
import type { GroupPage } from "@/lib/data/reliability/group-page";
import { lawSentence, rateSentence } from "@/lib/reliability/law-sentences";
import { repeatReturnsSentence } from "@/lib/reliability/repeat-returns";
import { packListHref } from "../packs/pack-list-address";
import { type Fault, faultColumns } from "./life-part";

/** A fault as it was found in the packs of one model. */
interface FaultOfModel extends Fault {
  readonly model: string;
}

/** Curve, shares, faults, law, rate and repeated returns of each model of a group that has packs of several. */
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
      <DataTable
        caption={`Failures of ${line.group} by model and by the fault that was found`}
        columns={faultsByModel(page)}
        rows={byModel.flatMap(({ model, life }) => life.faults.map((fault): FaultOfModel => ({ ...fault, model })))}
        rowKey={({ model, fault }) => `${model} ${fault}`}
        whenEmpty="No failure has been confirmed by then, so there is nothing to tell apart."
      />
      <ul className="max-w-4xl list-disc space-y-1 pl-5">
        {byModel.map(({ model, life, repeats }) => (
          <li key={model}>
            Model {model}: {lawSentence(life.model)} {rateSentence(life)} {repeatReturnsSentence(repeats)}
          </li>
        ))}
      </ul>
    </div>
  );
}

function faultsByModel({ by, line }: GroupPage): readonly Column<FaultOfModel>[] {
  return [
    { head: "Model", cell: ({ model }) => model },
    ...faultColumns<FaultOfModel>(by, line.group, ({ model }) => ({ model })),
  ];
}
