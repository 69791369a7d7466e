import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { QuestionForm } from "@/app/_components/question-form";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { listPolicies, shadowRunOf, termsToStartFrom } from "@/lib/data/warranty/policies";
import { shadowSentence } from "@/lib/warranty/replay";
import { proposePolicyAction } from "./actions";
import { PolicyCard } from "./policy-card";
import { policyQuestions } from "./policy-questions";

export const metadata: Metadata = { title: "Guarantee rules" };

export default async function PoliciesPage() {
  const actor = await requireActor("read-policies");
  const policies = await listPolicies(actor);
  if (policies === null) notFound();
  const shadows = new Map<string, string>();
  for (const { version, state } of policies) {
    const run = state === "proposed" ? await shadowRunOf(actor, version) : null;
    if (run !== null) shadows.set(version, shadowSentence(run));
  }
  const mayPropose = may(actor, "propose-policy");
  return (
    <HouseFrame actor={actor} current="/policies">
      <div className="space-y-8">
        <div className="space-y-2">
          <h1>What the maker promises, version by version</h1>
          <p>
            A pack keeps the version of the day it was sold. A version is never edited: a new one is proposed by one
            manager and approved by another.
          </p>
          <nav aria-label="More about the rules" className="flex flex-wrap gap-x-5">
            <Link
              href="/policies/periods"
              className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
            >
              Periods and limits of a return
            </Link>
            <Link
              href="/policies/legal-duties"
              className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
            >
              The seller&rsquo;s legal duty by country
            </Link>
            <Link
              href="/known-issues"
              className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
            >
              Known issues that override these dates
            </Link>
            {mayPropose ? (
              <>
                <Link
                  href="/policies/distributor-sales"
                  className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
                >
                  Distributors&rsquo; sales
                </Link>
                <Link
                  href="/thresholds"
                  className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
                >
                  Thresholds of the diagnosis
                </Link>
                <Link
                  href="/policies/replay"
                  className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
                >
                  Give past answers again
                </Link>
              </>
            ) : null}
          </nav>
        </div>
        <div className="grid gap-4 lg:grid-cols-2">
          {policies.map((policy) => (
            <PolicyCard
              key={policy.version}
              policy={policy}
              maySettle={may(actor, "approve-policy")}
              shadow={shadows.get(policy.version) ?? null}
            />
          ))}
        </div>
        {mayPropose ? (
          <section className="space-y-4">
            <h2>Propose a version</h2>
            <QuestionForm
              id="policy"
              action={proposePolicyAction}
              questions={policyQuestions(await termsToStartFrom(actor))}
              button="Propose"
            />
          </section>
        ) : null}
      </div>
    </HouseFrame>
  );
}
