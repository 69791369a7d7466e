import { AnswerForm } from "@/app/_components/answer-form";
import { ButtonLink } from "@/app/_components/button";
import { LocalTime } from "@/app/_components/local-time";
import { Stamp } from "@/app/_components/status-line";
import type { TransportView } from "@/lib/data/transport/transport";
import { whyNotSent } from "@/lib/transport/authorisation";
import { transportClassLabels } from "@/lib/transport/transport-class";
import { WorkSection } from "../bench-section";
import { reviveLeaveAction } from "./actions";
import { classTones } from "./proposal-part";

/** The class that counts, who declared it, whether it may be sent now, and what can be printed. */
export function SendingPart({ transport, mayRevive }: { transport: TransportView; mayRevive: boolean }) {
  const { declaration, sending, reference, leg } = transport;
  const sheets = `/print/${reference}`;
  const way = leg === "to-maker" ? "" : `?leg=${leg}`;
  return (
    <WorkSection title="Declared class and leave to send">
      {declaration === null ? null : (
        <>
          <p>
            <Stamp tone={classTones[declaration.transportClass]}>
              {transportClassLabels[declaration.transportClass]}
            </Stamp>
          </p>
          <p>
            Declared by {declaration.declaredByName} on <LocalTime at={declaration.declaredAt} />, under the rules of
            version {declaration.ruleVersion}: {declaration.reason}
            {declaration.answersName === null ? "" : ` A class had been proposed by ${declaration.answersName}.`}
          </p>
        </>
      )}
      {sending.kind === "may-send" ? (
        <p>
          May be sent until <LocalTime at={sending.until} />.
        </p>
      ) : (
        <p className="font-semibold">{whyNotSent(sending)}</p>
      )}
      {sending.kind === "expired" && mayRevive ? (
        <AnswerForm action={reviveLeaveAction} submit="Give leave to send anew" weight="second">
          <input type="hidden" name="reference" value={reference} />
          <input type="hidden" name="leg" value={leg} />
        </AnswerForm>
      ) : null}
      <div className="flex flex-wrap gap-3">
        <ButtonLink weight="second" href={`${sheets}/traveller`}>
          Traveller for the pack
        </ButtonLink>
        {sending.kind === "may-send" ? (
          <>
            <ButtonLink weight="second" href={`${sheets}/label${way}`}>
              Label
            </ButtonLink>
            <ButtonLink weight="second" href={`${sheets}/packing-sheet${way}`}>
              Packing sheet
            </ButtonLink>
            {leg === "to-maker" ? (
              <ButtonLink weight="second" href={`${sheets}/used-battery-statement`}>
                Statement for a used battery
              </ButtonLink>
            ) : null}
          </>
        ) : null}
      </div>
    </WorkSection>
  );
}
