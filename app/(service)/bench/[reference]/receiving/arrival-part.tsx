import { AnswerForm } from "@/app/_components/answer-form";
import { AskedChoices, AskedLong, AskedText } from "@/app/_components/asked-fields";
import { FactList } from "@/app/_components/fact-list";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { Notice } from "@/app/_components/notice";
import type { ReceivedPack } from "@/lib/data/receiving/received-pack";
import { listed } from "@/lib/diagnosis/wording";
import { boxConditionLabels, boxConditions, handSignLabels, handSigns } from "@/lib/receiving/arrival.schema";
import { settledOutcomeLabels, settledOutcomes } from "@/lib/receiving/settle-identity.schema";
import { WorkSection } from "../bench-section";
import { recordArrivalAction, settleIdentityAction } from "./actions";

/** Scan in: is it the right pack, how does it look. */
export function ArrivalPart({ pack, mayReceive }: { pack: ReceivedPack; mayReceive: boolean }) {
  const { arrival, comes, reference } = pack;
  return (
    <WorkSection title="1. Scan in and first look">
      {arrival === null ? <p>The pack has not been recorded as come in.</p> : <ArrivalFacts arrival={arrival} />}
      {arrival !== null && arrival.identity !== "match" && arrival.settlement === null ? (
        <>
          <Notice kind="danger" title="This may be another pack than the return is about">
            <p>
              Scanned: {arrival.scanned === "" ? "nothing" : arrival.scanned}. Both stay where they are until it is
              settled.
            </p>
          </Notice>
          {mayReceive ? (
            <AnswerForm action={settleIdentityAction} submit="It is settled">
              <input type="hidden" name="reference" value={reference} />
              <AskedChoices
                name="outcome"
                id="outcome"
                type="radio"
                legend="Which pack it is"
                choices={settledOutcomes.map((value) => ({ value, label: settledOutcomeLabels[value] }))}
                control={{ required: true }}
              />
              <AskedLong name="how" label="Who settled it, and how" required rows={3} />
            </AnswerForm>
          ) : null}
        </>
      ) : null}
      {mayReceive && comes !== "here" ? (
        <>
          {arrival === null ? null : <h3>It comes in again</h3>}
          {comes === "unannounced" ? (
            <Notice kind="info" title="Nobody has said that this pack is on its way">
              <p>If it lies before you, record it all the same: it goes into quarantine, and its return is told.</p>
            </Notice>
          ) : null}
          {comes === "found" ? (
            <Notice kind="info" title="This pack lies here and was not scanned in under this return since it came">
              <p>Scan it in under this one: its return goes on from there, and its place in quarantine goes along.</p>
            </Notice>
          ) : null}
          <ArrivalForm reference={reference} />
        </>
      ) : null}
    </WorkSection>
  );
}

function ArrivalFacts({ arrival }: { arrival: NonNullable<ReceivedPack["arrival"]> }) {
  const { signs, settlement, insulationMegaohm } = arrival;
  return (
    <FactList
      columns={1}
      facts={[
        { term: "Came in", detail: <LocalTime at={arrival.arrivedAt} /> },
        { term: "Received by", detail: arrival.receivedByName },
        {
          term: "Identity",
          detail:
            arrival.identity === "match"
              ? "The serial on the pack is that of the return"
              : `Not the serial of the return: ${arrival.foundSerialShown ?? "could not be read"}`,
        },
        ...(settlement === null
          ? []
          : [{ term: "Settled", detail: `${settlement.how} (${settlement.settledByName})` }]),
        { term: "Box", detail: labelOf(boxConditionLabels, arrival.boxCondition) },
        {
          term: "Signs",
          detail: signs.length === 0 ? "None seen" : listed(signs.map((sign) => labelOf(handSignLabels, sign))),
        },
        {
          term: "Insulation to the case",
          detail: insulationMegaohm === null ? "Not measured" : `${insulationMegaohm} megaohm`,
        },
        ...(arrival.note === "" ? [] : [{ term: "Note", detail: arrival.note }]),
      ]}
    />
  );
}

function ArrivalForm({ reference }: { reference: string }) {
  return (
    <AnswerForm action={recordArrivalAction} submit="Record that it came in">
      <input type="hidden" name="reference" value={reference} />
      <AskedText
        name="scanned"
        label="Serial on the pack itself"
        hint="Scan or type it. Not the one on the box."
        required
        autoComplete="off"
        maxLength={200}
      />
      <AskedChoices
        name="boxCondition"
        id="box"
        type="radio"
        legend="How the box looks"
        choices={boxConditions.map((value) => ({ value, label: boxConditionLabels[value] }))}
        control={{ required: true }}
      />
      <AskedChoices
        name="signs"
        id="signs"
        type="checkbox"
        legend="What you see, smell or hear"
        choices={[
          ...handSigns.map((value) => ({ value, label: handSignLabels[value] })),
          { value: "none", label: "None of these" },
        ]}
        apart="none"
      />
      <AskedText
        name="insulationMegaohm"
        id="insulation"
        label="Insulation to the case, in megaohm"
        hint="Leave empty where it was not measured."
        inputMode="decimal"
      />
      <AskedLong name="note" label="Note" rows={2} maxLength={2000} />
    </AnswerForm>
  );
}
