import type { ReactNode } from "react";
import { writtenDay } from "@/app/_components/calendar-day";
import { SurvivalChart } from "@/app/_components/charts/survival-chart";
import { DownloadLink } from "@/app/_components/download-link";
import type { GroupPage } from "@/lib/data/reliability/group-page";
import { ownDelaySentence } from "@/lib/reliability/group-lag-sentences";
import type { GroupTable } from "@/lib/reliability/group-tables-csv";
import { settledLawSentence } from "@/lib/reliability/law-sentences";
import { confirmationSentence } from "@/lib/reliability/reporting-lag";
import { packListFileHref } from "../packs/pack-list-address";
import { CountsPart } from "./counts-part";
import { FailedPackTable } from "./failed-pack-table";
import { groupTableHref } from "./group-address";
import { LifePart } from "./life-part";
import { ModelsPart } from "./models-part";
import { PointTable } from "./point-table";
import { RepeatPart } from "./repeat-part";
import { TitledSection } from "./titled-section";
import { UnknownStartPart } from "./unknown-start-part";
import { WeibullPart } from "./weibull-part";

interface GroupPartsProps {
  readonly page: GroupPage;
  /** What only groups of one kind have, beside the curve. */
  readonly children?: ReactNode;
}

/** What is said of a group of packs whatever it is grouped by: curve, counts, faults, law and the packs behind it. */
export function GroupParts({ page, children }: GroupPartsProps) {
  const { line, dataDate, life, lag, delays, failures, unknownStarts, repeats } = page;
  const ownDelay = delays?.own.get(line.group);
  const restsOn = settledLawSentence(life.settled, dataDate);
  const file = (table: GroupTable, what: string) => (
    <DownloadLink href={groupTableHref(page.by, line.group, table)}>{`${what} as a table file (CSV)`}</DownloadLink>
  );
  return (
    <>
      <div className="grid grid-cols-1 gap-x-8 gap-y-8 xl:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]">
        <TitledSection title="Share failed by age">
          <SurvivalChart
            id="group-curve"
            title={`${line.group}: share of packs failed by age, up to ${writtenDay(dataDate)}`}
            reports={[line]}
            highlighted={[line.group]}
          />
          <PointTable by={page.by} line={line} allowsForDelay={lag.kind === "lag"} dataDate={dataDate} />
        </TitledSection>
        <div className="min-w-0 space-y-8">
          {children}
          <TitledSection title="What is counted and what is not">
            <CountsPart by={page.by} line={line} />
          </TitledSection>
        </div>
      </div>
      <TableFiles>
        {file("shares", "The shares failed")}
        {file("curve", "Every point of the curve")}
      </TableFiles>
      {unknownStarts === null ? null : (
        <TitledSection title="Packs without a known day of sale">
          <UnknownStartPart by={page.by} group={line.group} starts={unknownStarts} />
        </TitledSection>
      )}
      <TitledSection title="Which faults, and by what law">
        <LifePart
          by={page.by}
          group={line.group}
          life={life}
          delayWords={ownDelay === undefined ? confirmationSentence(lag) : ownDelaySentence(line.group, ownDelay)}
          allowsForDelay={lag.kind === "lag"}
          restsOn={restsOn}
        />
        <TableFiles>
          {file("faults", "The faults found")}
          {file("law", "The law")}
        </TableFiles>
      </TitledSection>
      <TitledSection title="Does one law hold for all its failures?">
        <p className="max-w-4xl">{restsOn}</p>
        <WeibullPart by={page.by} life={life} group={line.group} />
        <TableFiles>{file("law-points", "The points and the line")}</TableFiles>
      </TitledSection>
      {page.byModel.length === 0 ? null : (
        <TitledSection title="Each model by itself">
          <ModelsPart page={page} />
        </TitledSection>
      )}
      <TitledSection title="Who comes back more than once?">
        <RepeatPart repeats={repeats} group={line.group} />
        <TableFiles>{file("repeats", "Returns by age")}</TableFiles>
      </TitledSection>
      <TitledSection title="The packs behind the number">
        <FailedPackTable failures={failures} group={line.group} dataDate={dataDate} />
        <TableFiles>
          <DownloadLink href={packListFileHref(page.by, line.group, "failures")}>
            These packs as a table file (CSV)
          </DownloadLink>
        </TableFiles>
      </TitledSection>
    </>
  );
}

function TableFiles({ children }: { readonly children: ReactNode }) {
  return <p className="flex flex-wrap gap-x-8">{children}</p>;
}
