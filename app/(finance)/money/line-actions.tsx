import { OneStepForm } from "@/app/_components/one-step-form";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { LineView } from "@/lib/data/money/settlement";
import { lineMoves } from "@/lib/settlement/line-moves";
import { moveLineAction } from "./actions";

const steps = [
  { name: "check", button: "Checked", asks: undefined },
  { name: "approve", button: "Approve", asks: undefined },
  { name: "refuse", button: "Refuse", asks: "Why, for the dealer" },
  { name: "reverse", button: "Reverse", asks: "Why, for the dealer" },
] as const;

function openSteps(actor: Actor, line: LineView) {
  return steps.filter(({ name }) => {
    const { from, act, byAnother } = lineMoves[name];
    if (name === "reverse" && (line.isReversal || line.isReversed || line.isReversalOpen)) return false;
    if (name === "approve" && line.isForAnotherApprover) return false;
    if (name === "refuse" && line.state === "approved" && !line.isNotOwed) return false;
    return may(actor, act) && from.includes(line.state) && !(byAnother && line.isOwnClaim);
  });
}

/** Lines this person can do something with, in the order they came. */
export function forYou(actor: Actor, lines: readonly LineView[]): LineView[] {
  return lines.filter((line) => openSteps(actor, line).length > 0);
}

/** The steps of the table that are open to this person on this line. */
export function LineActions({ actor, line }: { actor: Actor; line: LineView }) {
  const open = openSteps(actor, line);
  const waitsForAnother = line.isForAnotherApprover && line.state === "checked";
  if (open.length === 0 && !waitsForAnother) return <span className="text-soft">Nothing for you</span>;
  return (
    <div className="space-y-2">
      {waitsForAnother ? (
        <p className="text-sm">
          You checked it; above the limit, alone or with what you passed of this return, a colleague approves it.
        </p>
      ) : null}
      {open.map(({ name, button, asks }) => (
        <OneStepForm
          key={name}
          action={moveLineAction}
          hidden={{ lineId: line.id, name, seenVersion: String(line.version) }}
          button={button}
          spoken={`${button}: ${line.what}, ${line.reference}`}
          {...asked(name, line, asks)}
        />
      ))}
    </div>
  );
}

/** Beside the reasons that are always asked: why a complaint is paid that did not, or not for sure, come within the time between maker and dealer. */
function asked(name: string, line: LineView, asks: string | undefined): { asks?: string } {
  if (asks !== undefined) return { asks };
  const isPaidAllTheSame = name === "approve" && line.isOutsideSettlement && !line.isReversal;
  return isPaidAllTheSame
    ? { asks: "Not told within the time between maker and dealer, or nobody can tell yet: why is it paid?" }
    : {};
}
