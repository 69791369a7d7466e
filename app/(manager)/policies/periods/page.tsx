import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { QuestionForm } from "@/app/_components/question-form";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { listSettingsVersions } from "@/lib/data/returns/settings-versions";
import { proposeSettingsAction } from "./actions";
import { SettingsCard } from "./settings-card";
import { settingsQuestions } from "./settings-questions";

export const metadata: Metadata = { title: "Periods and limits" };

export default async function PeriodsPage() {
  const actor = await requireActor("read-policies");
  const versions = await listSettingsVersions(actor);
  if (versions === null) notFound();
  const inForce = versions.find(({ isInForce }) => isInForce);
  return (
    <HouseFrame actor={actor} current="/policies">
      <div className="space-y-8">
        <div className="space-y-2">
          <h1>Periods and limits of a return, version by version</h1>
          <p>
            A case is judged by the setting of its day. A version is never edited: a new one is proposed by one manager
            and approved by another.
          </p>
        </div>
        <div className="grid gap-4 lg:grid-cols-2">
          {versions.map((version) => (
            <SettingsCard key={version.version} version={version} maySettle={may(actor, "approve-policy")} />
          ))}
        </div>
        {may(actor, "propose-policy") ? (
          <section className="space-y-4">
            <h2>Propose a version</h2>
            <QuestionForm
              id="periods"
              action={proposeSettingsAction}
              questions={settingsQuestions(inForce?.values ?? null)}
              button="Propose"
            />
          </section>
        ) : null}
      </div>
    </HouseFrame>
  );
}
