import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { BenchReturn } from "@/lib/data/bench-returns";
import { BenchSection } from "./bench-section";
import { DecisionCard } from "./decision-card";
import { DecisionDesk } from "./decision-desk";
import { TakeForm } from "./take-form";

/** The one thing that can be done now: take it, decide it, or read what was decided. */
export function NextStep({ actor, page }: { actor: Actor; page: BenchReturn }) {
  const { reference, version, status, decision, check } = page;
  const mayDecide = may(actor, "propose-decision");
  const isOpen = status === "in-review";
  return (
    <BenchSection title={decision === null ? "Next step" : "Decision"}>
      {decision === null ? null : <DecisionCard decision={decision} />}
      {status === "withdrawn" ? <p>This return was withdrawn. Nothing more happens.</p> : null}
      {mayDecide && status === "sent-in" ? <TakeForm reference={reference} version={version} /> : null}
      {mayDecide && status !== "sent-in" ? (
        <DecisionDesk
          reference={reference}
          version={version}
          isOpen={isOpen}
          replacements={check.replacement.kind === "may-replace" ? check.replacement.options : []}
          whyNoReplacement={check.replacement.kind === "none" ? check.replacement.sentence : null}
          repairNote={repairNote(page)}
        />
      ) : null}
      {mayDecide || decision !== null || status === "withdrawn" ? null : (
        <p className="text-soft">Service takes and decides a return. You see all they see.</p>
      )}
    </BenchSection>
  );
}

function repairNote({ potted, cellsRepairable }: BenchReturn): string | null {
  if (potted) return "This revision is potted: no cell can be exchanged and no joint made again.";
  return cellsRepairable ? null : "In this revision cells cannot be exchanged.";
}
