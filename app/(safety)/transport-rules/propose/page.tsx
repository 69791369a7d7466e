import type { Metadata } from "next";
import Link from "next/link";
import { HouseFrame } from "@/app/_components/house-frame";
import { QuestionForm } from "@/app/_components/question-form";
import { requireActor } from "@/lib/auth/session";
import { readRulesInForce } from "@/lib/data/transport/transport-rules";
import { ruleFields } from "@/lib/transport/rule-fields";
import { BLANK_TRACKS } from "@/lib/transport/rule-proposal";
import { HOW_TO_MARK } from "@/lib/transport/rule-text";
import { proposeTransportRulesAction } from "../actions";
import { ruleQuestions } from "./rule-questions";

export const metadata: Metadata = { title: "Propose transport rules" };

export default async function ProposeTransportRulesPage() {
  const actor = await requireActor("propose-transport-rules");
  const { rules, version } = await readRulesInForce(actor);
  return (
    <HouseFrame actor={actor} current="/incidents">
      <div className="max-w-4xl space-y-6">
        <div className="space-y-2">
          <h1>Propose the version after {version}</h1>
          <p>
            Change what is to change; the rest stays. One sentence a line. {HOW_TO_MARK} The adviser confirms the
            version once it is in force.{" "}
            <Link
              href="/transport-rules"
              className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
            >
              All versions
            </Link>
          </p>
        </div>
        <QuestionForm
          id="rules"
          action={proposeTransportRulesAction}
          questions={ruleQuestions(ruleFields(rules, BLANK_TRACKS))}
          button="Propose this version"
        />
      </div>
    </HouseFrame>
  );
}
