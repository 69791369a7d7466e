import type { Metadata } from "next";
import { z } from "zod";
import { DealerFrame } from "@/app/_components/dealer-frame";
import { requireActor } from "@/lib/auth/session";
import { readDraft } from "@/lib/data/returns/return-drafts";
import { readDealerScripts } from "@/lib/data/transport/transport-rules";
import { toDraft } from "./kept-draft";
import { ReturnForm } from "./return-form";

export const metadata: Metadata = { title: "New return" };

const addressSchema = z.object({
  draft: z.uuid().nullable().catch(null),
  theirs: z.literal("1").nullable().catch(null),
});

interface NewReturnPageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function NewReturnPage({ searchParams }: NewReturnPageProps) {
  const actor = await requireActor("lodge-return");
  const asked = addressSchema.parse(await searchParams);
  const kept = asked.draft === null ? null : await readDraft(actor, asked.draft);
  return (
    <DealerFrame actor={actor} current="/dealer/returns/new">
      <noscript>
        <p className="mb-4 border-2 border-warn bg-warn-paper p-4">
          This form needs script, which is switched off in this browser. If a pack is hot, smoking or hissing, keep away
          from it and call the fire service.
        </p>
      </noscript>
      <ReturnForm
        owner={actor.userId}
        kept={kept === null ? null : toDraft(kept)}
        preferKept={asked.theirs !== null}
        scripts={await readDealerScripts(actor)}
      />
    </DealerFrame>
  );
}
