import type { Metadata } from "next";
import { requireActor } from "@/lib/auth/session";
import { DealerFrame } from "../../dealer-frame";
import { ReturnForm } from "./return-form";

export const metadata: Metadata = { title: "New return" };

export default async function NewReturnPage() {
  const actor = await requireActor("lodge-return");
  return (
    <DealerFrame actor={actor} current="/dealer/returns/new">
      <noscript>
        <p className="mb-4 border-2 border-warn bg-warn-paper p-4">
          This form needs script, which is switched off in this browser. If a pack is hot, smoking or hissing, keep away
          from it and call the fire service.
        </p>
      </noscript>
      <ReturnForm owner={actor.userId} />
    </DealerFrame>
  );
}
