import type { Metadata } from "next";
import Link from "next/link";
import { notFound, redirect } from "next/navigation";
import { ButtonLink } from "@/app/_components/button";
import { DownloadLink } from "@/app/_components/download-link";
import { EmptyState } from "@/app/_components/empty-state";
import { HouseFrame } from "@/app/_components/house-frame";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { findReturn } from "@/lib/data/returns/find-return";
import { listReturnQueue, type QueueFilter } from "@/lib/data/returns/return-queue";
import { FindReturn } from "./find-return";
import { PageLinks } from "./page-links";
import { readQueueAddress } from "./queue-address";
import { QueueFilterLinks } from "./queue-filter-links";
import { QueueList } from "./queue-list";
import { queueWords } from "./queue-words";

export const metadata: Metadata = { title: "Returns" };

const headings: Readonly<Record<QueueFilter, string>> = {
  open: "Returns to look at, the riskiest first",
  maker: "Returns that wait for us, the riskiest first",
  dealer: "Returns that wait for the dealer",
  overdue: "Overdue returns, the longest first",
  "to-approve": "Decisions to approve",
  decided: "Decided returns, the newest first",
  ended: "Ended returns, the newest first",
};

const benchPages = [
  { href: "/test-plans", label: "Test plans" },
  { href: "/thresholds", label: "Thresholds" },
  { href: "/instruments", label: "Instruments" },
] as const;
const columnsPage = { href: "/columns", label: "Columns" } as const;

interface QueuePageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function BenchQueue({ searchParams }: QueuePageProps) {
  const actor = await requireActor("read-queue");
  const { show, page, find } = readQueueAddress(await searchParams);
  const found = find === "" ? null : await findReturn(actor, find);
  if (found?.kind === "found") redirect(`/bench/${found.reference}`);
  const queue = await listReturnQueue(actor, show, page);
  if (queue === null) notFound();
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="mb-5 flex flex-wrap items-end justify-between gap-x-10 gap-y-4">
        <h1>{headings[show]}</h1>
        <div className="flex flex-wrap items-end gap-4">
          <FindReturn typed={find} problem={found?.sentence ?? null} />
          {may(actor, "lodge-on-behalf") ? (
            <ButtonLink href="/bench/new" weight="second">
              New return for a dealer
            </ButtonLink>
          ) : null}
        </div>
      </div>
      <QueueFilterLinks shown={show} total={queue.total} />
      {queue.rows.length === 0 ? (
        <EmptyState title={show === "open" ? "The bench is clear" : "Nothing here"}>
          <p>
            {show === "open"
              ? "No return waits to be looked at. One that a dealer sends in appears here at once."
              : "No return stands here now."}
          </p>
        </EmptyState>
      ) : (
        <QueueList rows={queue.rows.map(queueWords)} />
      )}
      {may(actor, "export-returns") ? (
        <p className="mt-4">
          <DownloadLink href="/bench/export">All returns as a table file (CSV)</DownloadLink>
        </p>
      ) : null}
      <PageLinks show={show} page={queue.page} pages={queue.pages} />
      <nav aria-label="Of the bench" className="screen-only mt-8 flex flex-wrap gap-x-6 border-t border-rule pt-2">
        {[...benchPages, ...(may(actor, "withdraw-columns") ? [columnsPage] : [])].map(({ href, label }) => (
          <Link
            key={href}
            href={href}
            className="flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
          >
            {label}
          </Link>
        ))}
      </nav>
    </HouseFrame>
  );
}
