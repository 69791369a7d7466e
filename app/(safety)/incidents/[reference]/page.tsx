import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { AnswerForm } from "@/app/_components/answer-form";
import { FactList } from "@/app/_components/fact-list";
import { HouseFrame } from "@/app/_components/house-frame";
import { LocalTime } from "@/app/_components/local-time";
import { Notice } from "@/app/_components/notice";
import { SerialText } from "@/app/_components/serial-text";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { type IncidentView, readIncident } from "@/lib/data/safety/incidents";
import { listed } from "@/lib/diagnosis/wording";
import { knowledgeKindLabels } from "@/lib/safety/first-knowledge";
import { incidentFlagLabels } from "@/lib/safety/incident-flags";
import { countryName } from "@/lib/transport/country-name";
import { acknowledgeAction } from "../actions";
import { ChecklistPart } from "./checklist-part";
import { ClocksPart } from "./clocks-part";
import { EntryList } from "./entry-list";
import { KeepForms } from "./keep-forms";
import { NamePackForm } from "./name-pack-form";

export const metadata: Metadata = { title: "Incident" };

export default async function IncidentPage({ params }: { params: Promise<{ readonly reference: string }> }) {
  const actor = await requireActor("read-incidents");
  const incident = await readIncident(actor, (await params).reference);
  if (incident === null) notFound();
  const { state } = incident;
  const mayKeep = may(actor, "keep-incident") && state.closed === null;
  return (
    <HouseFrame actor={actor} current="/incidents">
      <div className="space-y-6">
        <h1>
          <span className="caption-print block">Incident</span>
          <SerialText large>{incident.reference}</SerialText>
        </h1>
        {state.closed === null ? (
          <Notice
            kind="danger"
            title={
              incident.pack === null
                ? "No pack is named, so none is held: find out which it is, and name it here"
                : "This pack is held: not shipped, not tested to destruction, not handed back, nothing erased"
            }
          >
            <p>
              The clocks below may be running since <LocalTime at={state.firstKnown.at} />.
            </p>
          </Notice>
        ) : (
          <Notice kind="info" title={`Closed by ${state.closed.byName}`}>
            <p>{state.closed.reason}</p>
            <p>Evidence and record are kept.</p>
          </Notice>
        )}
        <AcknowledgePart incident={incident} mayAcknowledge={may(actor, "acknowledge-incident")} />
        <IncidentFacts incident={incident} />
        {mayKeep && incident.pack === null ? <NamePackForm reference={incident.reference} /> : null}
        <div className="grid gap-x-8 gap-y-10 lg:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]">
          <ClocksPart incident={incident} mayKeep={mayKeep} />
          <div className="space-y-8">
            <ChecklistPart incident={incident} mayKeep={mayKeep} />
            {state.closed === null ? <KeepForms incident={incident} mayKeep={mayKeep} /> : null}
            <EntryList entries={incident.entries} />
          </div>
        </div>
      </div>
    </HouseFrame>
  );
}

interface AcknowledgePartProps {
  readonly incident: IncidentView;
  readonly mayAcknowledge: boolean;
}

/** The calls to the safety officer end here; what follows is decided below, clock by clock. */
function AcknowledgePart({ incident: { reference, state, entries }, mayAcknowledge }: AcknowledgePartProps) {
  if (state.acknowledged !== null) {
    return (
      <p>
        Acknowledged by {state.acknowledged.byName}, <LocalTime at={state.acknowledged.at} />.
      </p>
    );
  }
  if (state.closed !== null) return null;
  if (!mayAcknowledge)
    return <p className="font-semibold">Not acknowledged yet: the safety officer is called again and again.</p>;
  return (
    <AnswerForm action={acknowledgeAction} submit="I have taken notice" weight="danger">
      <input type="hidden" name="reference" value={reference} />
      <input type="hidden" name="seenEntries" value={entries.at(-1)?.sequence ?? 0} />
    </AnswerForm>
  );
}

function IncidentFacts({ incident }: { incident: IncidentView }) {
  const { state, dealer, pack, returnReference } = incident;
  return (
    <FactList
      facts={[
        { term: "What happened", detail: listed(state.flags.map((flag) => incidentFlagLabels[flag])) },
        {
          term: "First known",
          detail: (
            <>
              <LocalTime at={state.firstKnown.at} />, {knowledgeKindLabels[state.firstKnown.kind].toLowerCase()}
            </>
          ),
        },
        {
          term: "Pack",
          detail:
            pack === null
              ? "Nobody has named it yet"
              : `${pack.serialShown}, ${pack.modelName}, revision ${pack.revisionCode}, lots ${pack.lotCodes.join(", ")}`,
        },
        {
          term: "Return",
          detail: returnReference === null ? "None" : <Link href={`/bench/${returnReference}`}>{returnReference}</Link>,
        },
        {
          term: "Dealer",
          detail: dealer === null ? "None is named" : `${dealer.name}, ${dealer.town}`,
        },
        { term: "Countries concerned", detail: state.countries.map(countryName).join(", ") },
      ]}
    />
  );
}
