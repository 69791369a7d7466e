import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { AnswerForm } from "@/app/_components/answer-form";
import { EmptyState } from "@/app/_components/empty-state";
import { HouseFrame } from "@/app/_components/house-frame";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { readQuarantineBoard } from "@/lib/data/receiving/quarantine-board";
import { setPlaceAction } from "./actions";
import { AlarmNotice } from "./alarm-notice";
import { PlaceCard } from "./place-card";
import { PlaceFields } from "./place-fields";

export const metadata: Metadata = { title: "Quarantine" };

export default async function QuarantinePage() {
  const actor = await requireActor("read-build-record");
  const board = await readQuarantineBoard(actor);
  if (board === null) notFound();
  return (
    <HouseFrame actor={actor} current="/quarantine">
      <div className="space-y-6">
        <h1>Quarantine: what lies where, and what is due</h1>
        {board.alarms.length === 0 ? <p>Nothing is overdue, and no limit is passed.</p> : null}
        <AlarmNotice kind="danger" title="Act now" alarms={board.alarms.filter(({ grave }) => grave)} />
        <AlarmNotice kind="caution" title="Due" alarms={board.alarms.filter(({ grave }) => !grave)} />
        {board.places.length === 0 ? (
          <EmptyState title="No quarantine place is set">
            <p>The safety officer sets places and their limits, agreed with the insurer and the fire service.</p>
          </EmptyState>
        ) : (
          <div className="grid gap-6 lg:grid-cols-2">
            {board.places.map((place) => (
              <PlaceCard key={place.code} place={place} />
            ))}
          </div>
        )}
        {may(actor, "set-quarantine-places") ? (
          <details className="card p-4">
            <summary className="mb-3 min-h-11 cursor-pointer font-semibold">Set a place or change its limits</summary>
            <AnswerForm action={setPlaceAction} submit="Set this place">
              <PlaceFields />
            </AnswerForm>
          </details>
        ) : null}
      </div>
    </HouseFrame>
  );
}
