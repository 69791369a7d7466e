import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { LocalTime } from "@/app/_components/local-time";
import { Notice } from "@/app/_components/notice";
import { VersionCard } from "@/app/_two-people/version-card";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { listTransportRuleVersions } from "@/lib/data/transport/transport-rule-versions";
import { readRulesInForce } from "@/lib/data/transport/transport-rules";
import { settleTransportRulesAction } from "./actions";
import { ConfirmForm } from "./confirm-form";
import { RuleList } from "./rule-list";

export const metadata: Metadata = { title: "Transport rules" };

export default async function TransportRulesPage() {
  const actor = await requireActor("read-incidents");
  const versions = await listTransportRuleVersions(actor);
  if (versions === null) notFound();
  const { version, owner, fingerprint, confirmation } = await readRulesInForce(actor);
  return (
    <HouseFrame actor={actor} current="/incidents">
      <div className="max-w-4xl space-y-8">
        <div className="space-y-2">
          <h1>Transport rules, version by version</h1>
          <p>
            They belong to {owner}. A version is never edited: one person proposes the next, another approves it, and a
            class declared under an older one keeps what it was declared under.
          </p>
          {may(actor, "propose-transport-rules") ? (
            <Link
              href="/transport-rules/propose"
              className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
            >
              Propose a version
            </Link>
          ) : null}
        </div>
        {confirmation === null ? (
          <Notice
            kind="caution"
            title={`No adviser has confirmed version ${version}, so no pack can be called “not damaged”`}
          >
            <p>The adviser compares every sentence with the text in force; those from memory say so.</p>
          </Notice>
        ) : (
          <Notice kind="info" title={`Version ${version} was confirmed by ${confirmation.adviserName}`}>
            <p>
              {confirmation.adviserQualification}. {confirmation.statement} Recorded by {confirmation.recordedByName} on{" "}
              <LocalTime at={confirmation.confirmedAt} />.
            </p>
          </Notice>
        )}
        {may(actor, "confirm-transport-rules") && confirmation === null ? (
          <section aria-labelledby="confirm" className="space-y-3">
            <h2 id="confirm">The adviser has confirmed version {version}</h2>
            <ConfirmForm fingerprint={fingerprint} />
          </section>
        ) : null}
        {versions.map((row) => (
          <VersionCard
            key={row.version}
            row={row}
            isInForce={row.isInForce}
            maySettle={may(actor, "approve-transport-rules")}
            another="another person"
            action={settleTransportRulesAction}
          >
            {row.changes === null ? null : (
              <ul className="list-disc space-y-1 pl-5">
                {row.changes.map((change) => (
                  <li key={change}>{change}</li>
                ))}
              </ul>
            )}
            <details open={row.isInForce}>
              <summary className="min-h-11 cursor-pointer py-2 font-semibold">All it says</summary>
              <RuleList rules={row.rules} />
            </details>
          </VersionCard>
        ))}
      </div>
    </HouseFrame>
  );
}
