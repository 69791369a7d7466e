import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { requireActor } from "@/lib/auth/session";
import { readPlanBase } from "@/lib/data/bench-tests/test-plans";
import { ProposalForm } from "./proposal-form";

export const metadata: Metadata = { title: "Propose a test plan" };

export default async function ProposePlanPage({ params }: { readonly params: Promise<{ readonly scope: string }> }) {
  const actor = await requireActor("propose-test-plan");
  const base = await readPlanBase(actor, (await params).scope);
  if (base === null) notFound();
  const { scope, title, version, tests } = base;
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="max-w-3xl space-y-6">
        <div className="space-y-2">
          <h1>
            {version === 0 ? "Propose a first plan" : `Propose version after ${version}`} for {scope}
          </h1>
          <p>
            {title}.{" "}
            {version === 0
              ? "These tests are a draft: numbers worked out from the model, engineering defaults where there is no better source. Go through every one of them."
              : "Change what is to change; the rest stays. Results keep the limits they were judged by."}{" "}
            <Link
              href="/test-plans"
              className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
            >
              All plans
            </Link>
          </p>
        </div>
        <ProposalForm scope={scope} onVersion={version} tests={tests} />
      </div>
    </HouseFrame>
  );
}
