import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { listPlanScopes } from "@/lib/data/bench-tests/test-plans";
import { PlanCard } from "./plan-card";

export const metadata: Metadata = { title: "Test plans" };

export default async function TestPlansPage() {
  const actor = await requireActor("read-build-record");
  const scopes = await listPlanScopes(actor);
  if (scopes === null) notFound();
  const mayPropose = may(actor, "propose-test-plan");
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="space-y-8">
        <div className="space-y-2">
          <h1>How returned packs are tested, version by version</h1>
          <p>
            A revision with a plan of its own is tested by that, every other by the plan of its model. A version is
            never edited: one person proposes the next, another approves it. A pack keeps the version that was in force
            when it came to the bench.{" "}
            <Link
              href="/instruments"
              className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
            >
              Instruments
            </Link>{" "}
            <Link
              href="/thresholds"
              className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
            >
              Thresholds of the diagnosis
            </Link>
          </p>
        </div>
        {scopes.map(({ scope, title, plans }) => {
          const inForce = plans.find(({ state }) => state === "approved");
          return (
            <section key={scope} className="space-y-4" aria-labelledby={`plan-${scope}`}>
              <h2 id={`plan-${scope}`} className="border-b-2 border-ink pb-1">
                {scope}: {title}
              </h2>
              {plans.length === 0 ? <p>No plan yet, so nobody can record a test of these packs.</p> : null}
              {mayPropose ? (
                <Link
                  href={`/test-plans/${scope}`}
                  className="flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
                >
                  {plans.length === 0 ? `Propose a first plan for ${scope}` : `Propose a new version for ${scope}`}
                </Link>
              ) : null}
              {plans.map((plan) => (
                <PlanCard key={plan.id} plan={plan} scope={scope} isInForce={plan === inForce} maySettle={mayPropose} />
              ))}
            </section>
          );
        })}
      </div>
    </HouseFrame>
  );
}
