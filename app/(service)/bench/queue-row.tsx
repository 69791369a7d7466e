import Link from "next/link";
import type { ReactNode } from "react";
import { coverLabels } from "@/app/_components/cover-labels";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import { Stamp } from "@/app/_components/status-line";
import type { QueueRow as QueueRowFacts } from "@/lib/data/return-queue";
import { sayFault } from "@/lib/diagnosis/fault-words";
import { dangerLabels } from "@/lib/returns/danger-signs";
import { remedyLabels } from "@/lib/returns/decision.schema";
import { queueRisk } from "@/lib/returns/queue-risk";
import { returnStatusWords } from "@/lib/returns/return-status";
import { turnWords } from "@/lib/returns/return-turn";
import { symptomLabels } from "@/lib/returns/symptoms";
import { countryName } from "@/lib/transport/country-name";
import { queueColumns } from "./queue-columns";

export function QueueRow({ row }: { row: QueueRowFacts }) {
  const safetyClasses = row.findings.map(({ safetyClass }) => safetyClass);
  const risk = queueRisk(row.dangerSigns, safetyClasses, row.flag, row.suggestedRemedy);
  return (
    <li className="card relative hover:border-ink has-focus-visible:border-ink xl:rounded-none xl:border-t-0">
      <dl className={`grid grid-cols-2 gap-x-4 gap-y-2 p-3 ${queueColumns}`}>
        <Cell head="Return">
          <Link
            href={`/bench/${row.reference}`}
            prefetch={false}
            className="font-bold text-accent underline underline-offset-4 after:absolute after:inset-0"
          >
            <SerialText>{row.reference}</SerialText>
          </Link>
          <Small>
            <LocalTime at={row.lodgedAt} />
          </Small>
        </Cell>
        <Cell head="Risk" wide>
          <Stamp tone={risk.tone}>{risk.words}</Stamp>
          {row.dangerSigns.length === 0 ? null : (
            <Small>{row.dangerSigns.map((sign) => labelOf(dangerLabels, sign)).join("; ")}</Small>
          )}
        </Cell>
        <Cell head="Pack">
          <SerialText>{row.serialShown}</SerialText>
          <Small>
            {row.modelName}, <span className="whitespace-nowrap">revision {row.revisionCode}</span>
          </Small>
        </Cell>
        <Cell head="Dealer">
          {row.dealerName}
          <Small>{countryName(row.country)}</Small>
        </Cell>
        <Cell head="Complaint and readings" wide>
          {labelOf(symptomLabels, row.symptom)}
          <Small>{readingsSay(row)}</Small>
        </Cell>
        <Cell head="Maker's guarantee">{labelOf(coverLabels, row.coverOutcome)}</Cell>
        <Cell head="Where it stands">
          <span className="flex flex-wrap items-center gap-x-2 gap-y-1">
            {returnStatusWords(row.status)}
            {row.isOverdue ? <Stamp tone="warn">Overdue</Stamp> : null}
          </span>
          {row.remedy === null ? null : <Small>{labelOf(remedyLabels, row.remedy)}</Small>}
          {row.dueAt === null ? null : (
            <Small>
              {turnWords[row.turn]}, due <LocalTime at={row.dueAt} />
              {row.isPaused ? "; our clock stands still" : ""}
            </Small>
          )}
          <Small>{row.takenByName === null ? "Nobody has it" : row.takenByName}</Small>
        </Cell>
      </dl>
    </li>
  );
}

function Cell({ head, wide = false, children }: { head: string; wide?: boolean; children: ReactNode }) {
  return (
    <div className={wide ? "col-span-full min-w-0 xl:col-span-1" : "min-w-0"}>
      <dt className="caption-print xl:sr-only">{head}</dt>
      <dd>{children}</dd>
    </div>
  );
}

function Small({ children }: { children: ReactNode }) {
  return <p className="text-sm text-soft">{children}</p>;
}

function readingsSay({ findings, hasReadings }: QueueRowFacts): string {
  const [first, ...others] = findings;
  if (first !== undefined) {
    const more = others.length === 0 ? "" : `, and ${others.length} more`;
    return `Readings point to: ${sayFault(first.fault)}${more}`;
  }
  return hasReadings ? "Readings point to nothing yet" : "No readings file";
}
