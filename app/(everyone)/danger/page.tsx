import type { Metadata } from "next";
import { AnswerForm } from "@/app/_components/answer-form";
import { AskedChoices, AskedLong, AskedSelect, AskedText } from "@/app/_components/asked-fields";
import { Notice } from "@/app/_components/notice";
import { OwnFrame } from "@/app/_components/own-frame";
import { SignsQuestion } from "@/app/_components/signs-question";
import { requireActor } from "@/lib/auth/session";
import { readToldZone } from "@/lib/auth/told-zone";
import { listDealers } from "@/lib/data/accounts/dealers";
import { incidentFlagLabels, incidentFlags } from "@/lib/safety/incident-flags";
import { learnedHow, learnedHowLabels } from "@/lib/safety/told-danger.schema";
import { tellDangerAction } from "./actions";

export const metadata: Metadata = { title: "Tell a danger" };

/** Open to everybody who is signed in: whoever learns of a danger tells it here, whatever else they may see. */
export default async function TellDangerPage() {
  const actor = await requireActor("raise-safety");
  const isDealer = actor.dealerId !== null;
  const dealers = await listDealers(actor);
  const zone = await readToldZone();
  return (
    <OwnFrame actor={actor} ofHouse="/danger" ofDealer="/danger">
      <div className="max-w-2xl space-y-6">
        <h1>Tell a danger</h1>
        <Notice
          kind="danger"
          title="People first: if it is going on now, leave, warn the others and call the emergency number"
        >
          <p>
            Then tell it here. Your local emergency services and rules come before anything on this page.
            {isDealer
              ? " You may have a duty of your own to tell an authority; telling the maker does not replace it."
              : ""}
          </p>
        </Notice>
        <AnswerForm action={tellDangerAction} submit="Tell the safety officer" weight="danger">
          <AskedText
            name="about"
            label="Serial of the pack, or reference of the return"
            hint="Do not go near the pack to read it. Where nobody can name it, say so beneath."
            maxLength={60}
            autoCapitalize="characters"
          />
          <AskedChoices
            name="isUnnamed"
            id="unnamed"
            type="checkbox"
            legend="If nobody can name it"
            choices={[
              {
                value: "yes",
                label: "Nobody can name the pack: its label is gone, or nobody may go near it. It is named later.",
              },
            ]}
          />
          {dealers.length === 0 ? null : (
            <AskedSelect name="dealer" label="Dealer at whose place it is" hint="Only for a pack that nobody can name.">
              <option value="">None, or not known</option>
              {dealers.map(({ code, name }) => (
                <option key={code} value={code}>
                  {name}
                </option>
              ))}
            </AskedSelect>
          )}
          <AskedChoices
            name="flags"
            id="flags"
            type="checkbox"
            legend="What happened"
            hint="All that is true. None may be left out because it was small."
            choices={incidentFlags.map((value) => ({ value, label: incidentFlagLabels[value] }))}
          />
          <AskedLong name="note" label="In your words" required rows={4} />
          <SignsQuestion words="note" signs="flags" list="incident" />
          {isDealer ? null : (
            <AskedSelect name="how" label="How you know it">
              {learnedHow.map((value) => (
                <option key={value} value={value}>
                  {learnedHowLabels[value]}
                </option>
              ))}
            </AskedSelect>
          )}
          <AskedText
            name="knownAt"
            id="known-at"
            label="When you first knew it"
            hint={`${isDealer ? "" : clockWords(zone)}Leave it empty if it is now.`}
            type="datetime-local"
            className="max-w-72"
          />
          <AskedText
            name="country"
            label="Country, if it is not the dealer's"
            hint={isDealer ? "Two letters, or nothing." : "Two letters. Needed where no dealer is known."}
            maxLength={2}
            className="max-w-24"
          />
        </AnswerForm>
      </div>
    </OwnFrame>
  );
}

/** On whose clock a time is read that somebody of the house types. */
function clockWords(zone: string | null): string {
  return zone === null ? "In UTC. " : `On your clock (${zone}). `;
}
