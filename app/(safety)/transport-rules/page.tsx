import type { Metadata } from "next";
import { AnswerForm } from "@/app/_components/answer-form";
import { Field, TextArea, TextInput } from "@/app/_components/field";
import { HouseFrame } from "@/app/_components/house-frame";
import { LocalTime } from "@/app/_components/local-time";
import { markedLines } from "@/app/_components/marked-lines";
import { MarkedList } from "@/app/_components/marked-list";
import { Notice } from "@/app/_components/notice";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { readRulesInForce } from "@/lib/data/transport-rules";
import type { Packing } from "@/lib/transport/rule-set.schema";
import { transportRules } from "@/lib/transport/rules-of-the-house";
import { confirmRulesAction } from "./actions";

export const metadata: Metadata = { title: "Transport rules" };

export default async function TransportRulesPage() {
  const actor = await requireActor("read-incidents");
  const rules = await readRulesInForce(actor);
  const { confirmation } = rules;
  return (
    <HouseFrame actor={actor} current="/incidents">
      <div className="max-w-4xl space-y-8">
        <h1>Transport rules, version {rules.version}</h1>
        {confirmation === null ? (
          <Notice kind="caution" title="Nobody has confirmed these rules, so no pack can be called “not damaged”">
            <p>They belong to {rules.owner}, who compares every sentence with the text in force.</p>
          </Notice>
        ) : (
          <Notice kind="info" title={`Confirmed by ${confirmation.adviserName}`}>
            <p>
              {confirmation.adviserQualification}. {confirmation.statement} Recorded by {confirmation.recordedByName} on{" "}
              <LocalTime at={confirmation.confirmedAt} />.
            </p>
          </Notice>
        )}
        <section aria-labelledby="definition" className="space-y-3">
          <h2 id="definition">What counts as damaged or defective</h2>
          <MarkedList lines={markedLines(transportRules.definition)} />
        </section>
        {transportRules.tracks.map((track) => (
          <section key={track.name} aria-label={track.name} className="space-y-3">
            <h2>{track.name}</h2>
            <p className="text-soft">For packs that leave from {track.countries.join(", ")}.</p>
            <PackingRules title="Damaged or defective" packing={track.damaged} />
            <PackingRules title="Not damaged or defective" packing={track.notDamaged} />
            <h3>Do not ship: what a specialist packs by</h3>
            <MarkedList lines={markedLines(track.critical)} />
            <h3>Besides</h3>
            <MarkedList lines={markedLines(track.remarks)} />
          </section>
        ))}
        <section aria-labelledby="air" className="space-y-3">
          <h2 id="air">Air, mass, time</h2>
          <MarkedList lines={markedLines([...transportRules.air, transportRules.aloneAboveKg.rule])} />
          <p>Leave to send holds for {transportRules.authorisationDays} days [rule of this house].</p>
        </section>
        {may(actor, "confirm-transport-rules") && confirmation === null ? (
          <section aria-labelledby="confirm" className="space-y-3">
            <h2 id="confirm">The adviser has confirmed them</h2>
            <AnswerForm action={confirmRulesAction} submit="Record the confirmation">
              <input type="hidden" name="fingerprint" value={rules.fingerprint} />
              <Field id="adviser" label="Name of the adviser">
                {(wiring) => <TextInput {...wiring} name="adviserName" required />}
              </Field>
              <Field id="qualification" label="Certificate, and until when it holds">
                {(wiring) => <TextInput {...wiring} name="adviserQualification" required />}
              </Field>
              <Field id="statement" label="What was compared and confirmed, and where that is filed">
                {(wiring) => <TextArea {...wiring} name="statement" required />}
              </Field>
            </AnswerForm>
          </section>
        ) : null}
      </div>
    </HouseFrame>
  );
}

function PackingRules({ title, packing }: { title: string; packing: Packing }) {
  const { instruction, largeInstruction, level, contents, marks, documentEntries } = packing;
  return (
    <>
      <h3>
        {title}: {instruction}
        {largeInstruction === null ? "" : `, or ${largeInstruction}`}
      </h3>
      <MarkedList lines={markedLines([level, ...contents, ...marks, ...documentEntries])} />
    </>
  );
}
