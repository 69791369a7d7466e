import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { QuestionForm } from "@/app/_components/question-form";
import { VersionCard } from "@/app/_two-people/version-card";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { readModelThresholds } from "@/lib/data/readings/threshold-versions";
import { proposeThresholdsAction, settleThresholdsAction } from "../actions";
import { linkClass } from "../link-class";
import { WhatAChangeDoes } from "../what-a-change-does";
import { OwnThresholds } from "./own-thresholds";
import { thresholdQuestions } from "./threshold-questions";
import { UsualThresholds } from "./usual-thresholds";

export const metadata: Metadata = { title: "Thresholds of a model" };

export default async function ModelThresholdsPage({
  params,
}: {
  readonly params: Promise<{ readonly model: string }>;
}) {
  const actor = await requireActor("read-build-record");
  const model = await readModelThresholds(actor, (await params).model);
  if (model === null) notFound();
  const { code, name, inForce, inForceVersion, newest, versions } = model;
  const hasOpen = versions.some(({ state }) => state === "proposed");
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="max-w-4xl space-y-8">
        <div className="space-y-2">
          <h1>
            {code}: how readings of {name} are judged
          </h1>
          <Link href="/thresholds" className={linkClass}>
            Every model
          </Link>
          <WhatAChangeDoes actor={actor} />
        </div>
        <section className="space-y-3">
          <h2>In force today: {inForceVersion ?? "as written at set-up"}</h2>
          <OwnThresholds thresholds={inForce} />
          <UsualThresholds />
        </section>
        <section className="space-y-4">
          <h2>Every version, newest first</h2>
          {versions.length === 0 ? <p className="text-soft">No change was proposed yet.</p> : null}
          {versions.map((row) => (
            <VersionCard
              key={row.version}
              row={row}
              isInForce={row.version === inForceVersion}
              maySettle={may(actor, "approve-thresholds")}
              another="another manager"
              action={settleThresholdsAction}
            >
              <ul className="list-disc space-y-1 pl-5">
                {row.changes.map((change) => (
                  <li key={change}>{change}</li>
                ))}
              </ul>
            </VersionCard>
          ))}
        </section>
        {may(actor, "propose-thresholds") ? (
          <section className="space-y-4">
            <h2>Propose a change</h2>
            {hasOpen ? (
              <p>
                A proposal is open. It is approved or dropped before the next is made, so that neither undoes the other.
              </p>
            ) : (
              <>
                <p>
                  Change what is to change; the rest stays. Emptied, or set to the usual value, a threshold follows the
                  usual one. Outside the range nothing is taken: the ranges are rules of this house. Where no source is
                  named, the usual value is an engineering default without one.
                </p>
                <QuestionForm
                  id="thresholds"
                  action={proposeThresholdsAction}
                  questions={thresholdQuestions(newest.thresholds)}
                  finder="Find a threshold by its name"
                  hidden={{ model: code, onVersion: newest.version }}
                  button="Propose"
                />
              </>
            )}
          </section>
        ) : null}
      </div>
    </HouseFrame>
  );
}
