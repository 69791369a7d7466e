import { type Actor, type Role, roleWords } from "@/lib/access/actor";
import { whoMay } from "@/lib/access/may";
import { caseMoves } from "./case-moves";
import { type MoveName, moveLabels, moveNames } from "./move-names";
import { type MoveRefusal, moveRefusals } from "./move-refusal";
import { openMoves, whatStandsInTheWay } from "./return-moves";
import type { ReturnStanding } from "./return-standing";
import { fieldsOf, type StepField } from "./step-fields";

export interface OwnStep {
  readonly name: MoveName;
  readonly label: string;
  readonly needsReason: boolean;
  readonly fields: readonly StepField[];
  /** Why it is shut whatever the form says; null where filling in the form is enough. */
  readonly whyNot: string | null;
  /** The same as the table of refusals names it, for a page that knows where it is mended. */
  readonly lack: MoveRefusal | null;
}

export interface OtherStep {
  readonly name: MoveName;
  readonly label: string;
  /** Who may do it, in words. */
  readonly who: readonly string[];
}

/** The moves open to somebody, with what their forms ask; those shut by a condition say which. */
export function ownSteps(actor: Actor, standing: ReturnStanding): OwnStep[] {
  return openMoves(actor, standing).map((name) => {
    const why = whatStandsInTheWay(actor, standing, name);
    return {
      name,
      label: labelOf(name, standing),
      needsReason: caseMoves[name].needsReason,
      fields: fieldsOf(name, standing.known, standing.decidedRemedy, actor.dealerId === null),
      whyNot: why === null ? null : moveRefusals[why],
      lack: why,
    };
  });
}

/** What a step is called where its usual name would say that something is handed back although nothing is. */
function labelOf(name: MoveName, { decidedRemedy }: ReturnStanding): string {
  if (name !== "hand-back") return moveLabels[name];
  if (decidedRemedy === "dispose") return "Confirm the disposal";
  return decidedRemedy === "refund" ? "Confirm the refund" : moveLabels[name];
}

/** What could happen from here by the hand of others. */
export function otherSteps(actor: Actor, standing: ReturnStanding): OtherStep[] {
  const own = openMoves(actor, standing);
  return (
    moveNames
      .filter((name) => caseMoves[name].from.includes(standing.status) && !own.includes(name))
      // What only the program does comes by itself; nobody can be asked for it.
      .filter((name) => caseMoves[name].act !== null)
      .map((name) => ({ name, label: moveLabels[name], who: rolesOf(name).map((role) => roleWords[role]) }))
  );
}

function rolesOf(name: MoveName): Role[] {
  const { act, orAct } = caseMoves[name];
  return [...new Set([...(act === null ? [] : whoMay(act)), ...(orAct === undefined ? [] : whoMay(orAct))])];
}
