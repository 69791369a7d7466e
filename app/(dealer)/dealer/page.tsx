import { CirclePlus } from "lucide-react";
import type { Metadata } from "next";
import { ButtonLink } from "@/app/_components/button";
import { DealerFrame } from "@/app/_components/dealer-frame";
import { DownloadLink } from "@/app/_components/download-link";
import { EmptyState } from "@/app/_components/empty-state";
import { requireActor } from "@/lib/auth/session";
import { listDrafts } from "@/lib/data/returns/return-drafts";
import { listDealerReturns } from "@/lib/data/returns/returns";
import { DraftList } from "./draft-list";
import { ReturnList } from "./return-list";
import { returnWords } from "./return-words";
import { UnsentReturn } from "./unsent-return";

export const metadata: Metadata = { title: "My returns" };

export default async function DealerHome() {
  const actor = await requireActor("read-own-returns");
  const returns = await listDealerReturns(actor);
  const drafts = await listDrafts(actor);
  return (
    <DealerFrame actor={actor} current="/dealer">
      <ButtonLink href="/dealer/returns/new" className="w-full min-h-16 text-xl">
        <CirclePlus aria-hidden />
        New return
      </ButtonLink>
      <UnsentReturn owner={actor.userId} keptKeys={drafts.map(({ clientKey }) => clientKey)} />
      <DraftList drafts={drafts} />
      <h1 className="mt-8 mb-3">My returns</h1>
      {returns.length === 0 ? (
        <EmptyState title="No returns yet">
          <p>
            When a pack comes back to your counter, start with “New return”. It then stands here until it is settled.
          </p>
        </EmptyState>
      ) : (
        <>
          <ReturnList rows={returns.map(returnWords)} />
          <p className="mt-4">
            <DownloadLink href="/dealer/returns/export">My returns as a table file (CSV)</DownloadLink>
          </p>
        </>
      )}
    </DealerFrame>
  );
}
