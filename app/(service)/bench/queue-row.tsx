import Link from "next/link";
import type { ReactNode } from "react";
import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import { Stamp } from "@/app/_components/status-line";
import { queueColumns } from "./queue-columns";
import type { QueueRowWords } from "./queue-words";

export function QueueRow({ row }: { row: QueueRowWords }) {
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
          <Stamp tone={row.risk.tone}>{row.risk.words}</Stamp>
          {row.isHeld ? <Stamp tone="warn">Legal hold</Stamp> : null}
          {row.dangerSigns === null ? null : <Small>{row.dangerSigns}</Small>}
        </Cell>
        <Cell head="Pack">
          <SerialText>{row.serialShown}</SerialText>
          <Small>
            {row.modelName}, <span className="whitespace-nowrap">revision {row.revisionCode}</span>
          </Small>
        </Cell>
        <Cell head="Dealer">
          {row.dealerName}
          <Small>{row.country}</Small>
        </Cell>
        <Cell head="Complaint and readings" wide>
          {row.complaint}
          <Small>{row.readings}</Small>
        </Cell>
        <Cell head="Maker's guarantee">{row.guarantee}</Cell>
        <Cell head="Where it stands">
          <span className="flex flex-wrap items-center gap-x-2 gap-y-1">
            {row.status}
            {row.isOverdue ? <Stamp tone="warn">Overdue</Stamp> : null}
          </span>
          {row.remedy === null ? null : <Small>{row.remedy}</Small>}
          {row.due === null ? null : (
            <Small>
              {row.due.whose}, due <LocalTime at={row.due.at} />
              {row.due.isPaused ? "; our clock stands still" : ""}
            </Small>
          )}
          <Small>{row.takenBy}</Small>
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
