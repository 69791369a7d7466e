"use client";

import { type FormEvent, useState } from "react";
import { ChoiceList } from "@/app/_components/choice-list";
import { HandlingCard } from "@/app/_handling/handling-card";
import { type Danger, dangerAnswers, dangerLabels, dangerOf } from "@/lib/returns/danger-signs";
import type { DealerScripts } from "@/lib/transport/dealer-script";

/** Whoever asks on the telephone reads out at once what the dealer is to do with the pack. */
export function DangerQuestion({ scripts }: { scripts: DealerScripts }) {
  const [danger, setDanger] = useState<Danger>({ kind: "none" });

  function look(event: FormEvent<HTMLDivElement>) {
    const boxes = event.currentTarget.querySelectorAll<HTMLInputElement>("input:checked");
    const chosen = new Set([...boxes].map(({ value }) => value));
    setDanger(dangerOf(dangerAnswers.filter((answer) => chosen.has(answer))));
  }

  return (
    <div className="space-y-4" onChange={look}>
      <ChoiceList
        id="danger"
        type="checkbox"
        legend="Ask first: does the dealer see, hear, smell or feel any of this?"
        choices={dangerAnswers.map((value) => ({ value, label: dangerLabels[value] }))}
        apart="none-of-these"
        control={{ name: "dangerSigns" }}
      />
      <div role="status">
        {danger.kind === "none" ? null : (
          <>
            <p className="mb-2 font-semibold">Read this out now, before you ask on:</p>
            <HandlingCard script={scripts[danger.kind]} isDanger />
          </>
        )}
      </div>
    </div>
  );
}
