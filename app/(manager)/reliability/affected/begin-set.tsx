import Link from "next/link";
import { AnswerForm } from "@/app/_components/answer-form";
import { AskedChoices, AskedLong } from "@/app/_components/asked-fields";
import type { Actor } from "@/lib/access/actor";
import type { AffectedDefinition } from "@/lib/reliability/affected-packs";
import { mayBegin } from "@/lib/reliability/affected-set";
import { beginSetAction } from "./actions";

const beginnings = {
  proposed: "Propose it: a manager or the safety officer freezes it",
  frozen: "Freeze it: the set names these packs from now on",
  stopped: "Freeze it and hold its packs back now: none goes out as a replacement or on loan",
} as const;

/** Names the packs on this page as a set that stays, and holds them back where somebody may. */
export function BeginSet({ actor, definition }: { actor: Actor; definition: AffectedDefinition }) {
  const open = (["proposed", "frozen", "stopped"] as const).filter((as) => mayBegin(actor, as));
  return (
    <details className="card">
      <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">Keep these packs as a set</summary>
      <div className="space-y-4 border-t border-rule p-3">
        <AnswerForm action={beginSetAction} submit="Keep the set in my name">
          {Object.entries(definition).map(([name, value]) => (
            <input key={name} type="hidden" name={name} value={value ?? ""} />
          ))}
          <AskedChoices
            name="as"
            id="begin-as"
            type="radio"
            legend="What happens"
            choices={open.map((value) => ({ value, label: beginnings[value] }))}
            control={{ required: true }}
          />
          <AskedLong
            name="why"
            id="begin-why"
            label="Why: what these packs share and what it may do"
            required
            minLength={10}
            maxLength={2000}
          />
        </AnswerForm>
        <p>
          <Link href="/reliability/affected/sets">All sets, and which packs are held back</Link>
        </p>
      </div>
    </details>
  );
}
