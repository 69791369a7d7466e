import "server-only";
import { isGrave, type SafetyClass } from "@/lib/diagnosis/finding";
import type { Danger } from "@/lib/returns/danger-signs";
import { flagOfDanger } from "@/lib/returns/safety-track";
import type { Transaction } from "../database";
import type { MoverName } from "../returns/history";
import { raiseFlag } from "./raise-danger";

interface RaisedWithReturn {
  readonly returnId: string;
  readonly packId: string;
  readonly danger: Danger;
  /** Of what was found in the readings file. */
  readonly safetyClasses: readonly SafetyClass[];
  readonly at: Date;
  readonly zone: string;
}

/**
 * Any danger sign sets the pack apart, and so does a grave finding in its readings; a sign that is going on now forbids
 * to move it. A flag that is graver already stays. True where there is something that somebody must hear of.
 */
export async function raiseWithReturn(tx: Transaction, actor: MoverName, raised: RaisedWithReturn): Promise<boolean> {
  const { danger, safetyClasses, packId, ...step } = raised;
  const foundGrave = safetyClasses.some(isGrave);
  if (danger.kind === "none" && !foundGrave) return false;
  const asked = flagOfDanger(danger);
  const signs = danger.kind === "none" ? [] : [...danger.signs];
  const reason =
    signs.length > 0
      ? "Danger signs told when the return was lodged."
      : "The readings sent with the return show a danger.";
  await raiseFlag(tx, actor, { ...step, packId, asked, reason, facts: { signs } });
  return true;
}
