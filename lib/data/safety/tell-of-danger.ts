import "server-only";
import type { Transaction } from "../database";
import { queueNotice } from "../notices/notices";

/** A pack that somebody flagged, or of which an incident tells. */
export interface DangerToTell {
  /** Missing where no return was sent, or nobody of the house may see it. */
  readonly returnId?: string;
  /** By what the house finds it: the return, the incident, or the serial as shown. */
  readonly reference: string;
  /** What made it known, so that the same occasion is told once. */
  readonly occasion: string;
}

/** Tells the safety officer and the service desk of a danger, in the transaction that learns of it. */
export async function tellOfDanger(tx: Transaction, danger: DangerToTell): Promise<void> {
  for (const role of ["safety-officer", "service-lead"] as const)
    await queueNotice(tx, { kind: "danger-raised", ...danger, to: { role } });
}
