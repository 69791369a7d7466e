import type { ReactNode } from "react";
import { SurvivalChart } from "@/app/_components/charts/survival-chart";
import type { GroupPage } from "@/lib/data/group-page";
import { CountsPart } from "./counts-part";
import { FailedPackTable } from "./failed-pack-table";
import { LifePart } from "./life-part";
import { PointTable } from "./point-table";
import { TitledSection } from "./titled-section";
import { WeibullPart } from "./weibull-part";

interface GroupPartsProps {
  readonly page: GroupPage;
  /** What only groups of one kind have, beside the curve. */
  readonly children?: ReactNode;
}

/** What is said of a group of packs whatever it is grouped by: curve, counts, faults, law and the packs behind it. */
export function GroupParts({ page, children }: GroupPartsProps) {
  const { line, dataDate, life, lag, plot, failures } = page;
  return (
    <>
      <div className="grid gap-x-8 gap-y-8 xl:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]">
        <TitledSection title="Share failed by age">
          <SurvivalChart
            id="group-curve"
            title={`${line.group}: share of packs failed by age, up to ${dataDate}`}
            reports={[line]}
            highlighted={[line.group]}
          />
          <PointTable line={line} dataDate={dataDate} />
        </TitledSection>
        <div className="space-y-8">
          {children}
          <TitledSection title="What is counted and what is not">
            <CountsPart line={line} />
          </TitledSection>
        </div>
      </div>
      <TitledSection title="Which faults, and by what law">
        <LifePart life={life} lag={lag} />
      </TitledSection>
      <TitledSection title="Does one law hold for all its failures?">
        <WeibullPart plot={plot} group={line.group} />
      </TitledSection>
      <TitledSection title="The packs behind the number">
        <FailedPackTable failures={failures} group={line.group} dataDate={dataDate} />
      </TitledSection>
    </>
  );
}
