import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { LocalTime } from "@/app/_components/local-time";
import { Notice } from "@/app/_components/notice";
import { SerialText } from "@/app/_components/serial-text";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { DECISION_RULE_SOURCE } from "@/lib/bench-tests/verdict";
import { readBenchTests } from "@/lib/data/bench-tests/bench-test-page";
import { DEFERRAL } from "@/lib/returns/handling-caution";
import { isSetApart, safetyWords } from "@/lib/returns/safety-track";
import { WorkHeading } from "../bench-section";
import { CodingPart } from "./coding-part";
import { NoFaultPart } from "./no-fault-part";
import { SimilarPart } from "./similar-part";
import { TestList } from "./test-list";

export const metadata: Metadata = { title: "Tests" };

const parts = [
  { href: "#tests", label: "Tests" },
  { href: "#fault", label: "The fault" },
  { href: "#no-fault", label: "No fault found" },
  { href: "#similar", label: "Similar returns" },
] as const;

export default async function TestsPage({ params }: { readonly params: Promise<{ readonly reference: string }> }) {
  const actor = await requireActor("read-build-record");
  const page = await readBenchTests(actor, (await params).reference);
  if (page === null) notFound();
  const mayTest = may(actor, "test-pack");
  const { plan, openTitles } = page;
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="space-y-6">
        <div>
          <WorkHeading actor={actor} work="Tests of" reference={page.reference} />
          <p>
            {page.modelName}, revision {page.revisionCode}, <SerialText>{page.serialShown}</SerialText>.{" "}
            <Link
              href={`/bench/${page.reference}`}
              className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
            >
              To the return
            </Link>
          </p>
          <nav aria-label="Parts of this page" className="screen-only flex flex-wrap gap-x-5">
            {parts.map(({ href, label }) => (
              <a
                key={href}
                href={href}
                className="flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
              >
                {label}
              </a>
            ))}
          </nav>
        </div>
        {isSetApart(page.handledAs) ? (
          <Notice kind="danger" title={`${safetyWords[page.handledAs]}: nothing but looking from a distance`}>
            <p>The safety officer judges it first. Write down what you see; measure nothing.</p>
          </Notice>
        ) : (
          <Notice kind="caution" title="High-energy direct current: it cannot be switched off">
            <p>{DEFERRAL} Trained people only. Hot, swelling, hissing or smelling: leave it and warn the others.</p>
          </Notice>
        )}
        {page.isOnHold ? (
          <Notice kind="caution" title="A legal hold lies on this pack: nothing that destroys it goes ahead" />
        ) : null}
        <div className="grid gap-x-8 gap-y-10 *:min-w-0 xl:grid-cols-[minmax(0,1fr)_minmax(0,30rem)]">
          <section id="tests" aria-labelledby="tests-title" className="space-y-4">
            <h2 id="tests-title" className="border-b-2 border-ink pb-1">
              Tests, in the order that saves evidence
            </h2>
            {plan === null ? (
              <p>
                There is no approved test plan for this pack yet.{" "}
                <Link href="/test-plans" className="font-semibold text-accent underline underline-offset-4">
                  Test plans
                </Link>
              </p>
            ) : (
              <>
                <p>
                  Plan {plan.scope}, version {plan.version}, in force since <LocalTime at={plan.settledAt} />.{" "}
                  {openTitles.length === 0
                    ? "Every mandatory test is done or left out with a reason."
                    : `${openTitles.length} mandatory ${openTitles.length === 1 ? "test is" : "tests are"} open.`}
                </p>
                <p className="text-sm text-soft">
                  Inside: the value with its whole uncertainty keeps the limits. Outside: none of it does. Cannot tell:
                  it straddles one. {DECISION_RULE_SOURCE}
                </p>
                <TestList page={page} planId={plan.id} mayTest={mayTest} />
              </>
            )}
          </section>
          <div className="space-y-10">
            <CodingPart page={page} mayTest={mayTest} />
            <NoFaultPart page={page} mayTest={mayTest} mayWaive={may(actor, "waive-no-fault-protocol")} />
            <SimilarPart similar={page.similar} now={new Date()} />
          </div>
        </div>
      </div>
    </HouseFrame>
  );
}
