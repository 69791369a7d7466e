import { randomUUID } from "node:crypto";
import type { Metadata } from "next";
import { AnswerForm } from "@/app/_components/answer-form";
import { HouseFrame } from "@/app/_components/house-frame";
import { requireActor } from "@/lib/auth/session";
import { listDealers } from "@/lib/data/accounts/dealers";
import { readDealerScripts } from "@/lib/data/transport/transport-rules";
import { lodgeOnBehalfAction } from "./actions";
import { DangerQuestion } from "./danger-question";
import { CaseQuestions, HowQuestion, PackQuestions, WhomQuestion } from "./questions";

export const metadata: Metadata = { title: "Return for a dealer" };

export default async function LodgeOnBehalfPage() {
  const actor = await requireActor("lodge-on-behalf");
  const dealers = await listDealers(actor);
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="max-w-2xl space-y-5">
        <h1>Return for a dealer who cannot send it</h1>
        <p>
          It becomes the dealer's return. The history names you as the one who lodged it, so somebody else approves what
          is decided on it. If a pack is hot, smoking or hissing: people away, fire service first, then this form.
        </p>
        <AnswerForm action={lodgeOnBehalfAction} submit="Keep it">
          <input type="hidden" name="clientKey" value={randomUUID()} />
          <DangerQuestion scripts={await readDealerScripts(actor)} />
          <WhomQuestion dealers={dealers} />
          <PackQuestions />
          <CaseQuestions />
          <HowQuestion />
        </AnswerForm>
      </div>
    </HouseFrame>
  );
}
