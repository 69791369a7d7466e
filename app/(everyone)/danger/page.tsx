import type { Metadata } from "next";
import Link from "next/link";
import { AnswerForm } from "@/app/_components/answer-form";
import { ChoiceList } from "@/app/_components/choice-list";
import { Field, TextArea, TextInput } from "@/app/_components/field";
import { Notice } from "@/app/_components/notice";
import { OwnFrame } from "@/app/_components/own-frame";
import { SelectInput } from "@/app/_components/select-input";
import { requireActor } from "@/lib/auth/session";
import { incidentFlagLabels, incidentFlags } from "@/lib/safety/incident-flags";
import { learnedHow, learnedHowLabels } from "@/lib/safety/told-danger.schema";
import { tellDangerAction } from "./actions";

export const metadata: Metadata = { title: "Tell a danger" };

/** Open to everybody who is signed in: whoever learns of a danger tells it here, whatever else they may see. */
export default async function TellDangerPage() {
  const actor = await requireActor("raise-safety");
  const isDealer = actor.dealerId !== null;
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
          <Field
            id="about"
            label="Serial of the pack, or reference of the return"
            hint={
              isDealer ? (
                <>
                  Do not go near the pack to read it. Where nobody can name it safely,{" "}
                  <Link href="/dealer/returns/new" className="font-semibold text-accent underline underline-offset-4">
                    begin a new return
                  </Link>{" "}
                  and tick the danger: the maker is told of it at once, without a serial.
                </>
              ) : (
                "Nobody goes near the pack to read it. Where it cannot be named, telephone the safety officer."
              )
            }
          >
            {(wiring) => <TextInput {...wiring} name="about" required maxLength={60} autoCapitalize="characters" />}
          </Field>
          <ChoiceList
            id="flags"
            type="checkbox"
            legend="What happened"
            hint="All that is true. None may be left out because it was small."
            choices={incidentFlags.map((value) => ({ value, label: incidentFlagLabels[value] }))}
            control={{ name: "flags" }}
          />
          <Field id="note" label="In your words">
            {(wiring) => <TextArea {...wiring} name="note" required rows={4} />}
          </Field>
          {isDealer ? null : (
            <Field id="how" label="How you know it">
              {(wiring) => (
                <SelectInput {...wiring} name="how">
                  {learnedHow.map((value) => (
                    <option key={value} value={value}>
                      {learnedHowLabels[value]}
                    </option>
                  ))}
                </SelectInput>
              )}
            </Field>
          )}
          <Field
            id="known-at"
            label={isDealer ? "When you first knew it" : "When you first knew it, UTC"}
            hint="Leave it empty if it is now."
          >
            {(wiring) => <TextInput {...wiring} name="knownAt" type="datetime-local" className="max-w-72" />}
          </Field>
          <Field id="country" label="Country, if it is not the dealer's" hint="Two letters, or nothing.">
            {(wiring) => <TextInput {...wiring} name="country" maxLength={2} className="max-w-24" />}
          </Field>
        </AnswerForm>
      </div>
    </OwnFrame>
  );
}
