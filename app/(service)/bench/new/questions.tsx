"use client";

import { AskedField } from "@/app/_components/asked-fields";
import { ChoiceList } from "@/app/_components/choice-list";
import { DealerSelect } from "@/app/_components/dealer-select";
import { TextArea, TextInput } from "@/app/_components/field";
import { SelectInput } from "@/app/_components/select-input";
import { SignsQuestion } from "@/app/_components/signs-question";
import type { DealerChoice } from "@/lib/data/accounts/dealers";
import { conditionLabels, conditions } from "@/lib/returns/conditions";
import { noFileReasonLabels, noFileReasons } from "@/lib/returns/no-file-reasons";
import { saleEvidenceLabels, saleEvidences } from "@/lib/returns/sale-evidence";
import { symptomLabels, symptoms } from "@/lib/returns/symptoms";

export function WhomQuestion({ dealers }: { dealers: readonly DealerChoice[] }) {
  return (
    <AskedField name="dealerCode" label="For which dealer?">
      {(wiring) => <DealerSelect {...wiring} name="dealerCode" defaultValue="" dealers={dealers} none="Choose" />}
    </AskedField>
  );
}

export function PackQuestions() {
  return (
    <>
      <AskedField name="serial" label="Serial number">
        {(wiring) => <TextInput {...wiring} name="serial" autoComplete="off" maxLength={100} />}
      </AskedField>
      <div className="grid gap-4 sm:grid-cols-2">
        <Day id="toldOn" label="Day the customer told the dealer" />
        <Day id="noticedOn" label="Day the customer first noticed it" />
        <Day id="soldOnStated" label="Day the customer got it, if known" />
        <AskedField name="soldOnEvidence" label="How is that day known?">
          {(wiring) => (
            <SelectInput {...wiring} name="soldOnEvidence" defaultValue="">
              <option value="">Not known</option>
              {saleEvidences.map((value) => (
                <option key={value} value={value}>
                  {saleEvidenceLabels[value]}
                </option>
              ))}
            </SelectInput>
          )}
        </AskedField>
      </div>
    </>
  );
}

function Day({ id, label }: { id: string; label: string }) {
  return (
    <AskedField name={id} label={label}>
      {(wiring) => <TextInput {...wiring} name={id} type="date" />}
    </AskedField>
  );
}

export function CaseQuestions() {
  return (
    <>
      <AskedField name="concern" label="In the customer's own words, as the dealer tells them">
        {(wiring) => <TextArea {...wiring} name="concern" dir="auto" rows={4} maxLength={2000} />}
      </AskedField>
      <SignsQuestion words="concern" signs="dangerSigns" list="return" />
      <AskedField name="symptom" label="What does the pack do?">
        {(wiring) => (
          <SelectInput {...wiring} name="symptom" defaultValue="">
            <option value="">Choose</option>
            {symptoms.map((value) => (
              <option key={value} value={value}>
                {symptomLabels[value]}
              </option>
            ))}
          </SelectInput>
        )}
      </AskedField>
      <ChoiceList
        id="conditions"
        type="checkbox"
        legend="When does it happen, if the dealer knows?"
        choices={conditions.map((value) => ({ value, label: conditionLabels[value] }))}
        control={{ name: "conditions" }}
      />
      <AskedField name="noFileReason" label="Why is there no readings file?">
        {(wiring) => (
          <SelectInput {...wiring} name="noFileReason" defaultValue="later">
            {noFileReasons.map((value) => (
              <option key={value} value={value}>
                {noFileReasonLabels[value]}
              </option>
            ))}
          </SelectInput>
        )}
      </AskedField>
    </>
  );
}

export function HowQuestion() {
  return (
    <ChoiceList
      id="how"
      type="radio"
      legend="What happens with it?"
      choices={[
        { value: "send", label: "Send it in now, for the dealer" },
        { value: "keep", label: "Keep it unsent: the dealer finishes it, adds the readings and sends it" },
      ]}
      control={{ name: "how", defaultChecked: false }}
    />
  );
}
