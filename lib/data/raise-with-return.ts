import "server-only";
import { isGrave, type SafetyClass } from "@/lib/diagnosis/finding";
import type { Danger } from "@/lib/returns/danger-signs";
import { graverOf, type SafetyState } from "@/lib/returns/safety-track";
import type { Transaction } from "./database";
import type { MoverName } from "./history";
import { openTrack, readPackTracks, recordStep } from "./track-rows";

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
 * to move it. A flag that is graver already stays.
 */
export async function raiseWithReturn(tx: Transaction, actor: MoverName, raised: RaisedWithReturn): Promise<void> {
  const { danger, safetyClasses, packId, ...step } = raised;
  const foundGrave = safetyClasses.some(isGrave);
  if (danger.kind === "none" && !foundGrave) return;
  const asked: SafetyState = danger.kind === "keep-away" ? "do-not-move" : "isolate";
  const { safety } = await readPackTracks(tx, packId);
  const to = graverOf(safety.state, asked);
  if (to === safety.state) return;
  const trackId = safety.id ?? (await openTrack(tx, actor, { track: "safety", packId }, safety.state));
  const signs = danger.kind === "none" ? [] : [...danger.signs];
  const reason =
    signs.length > 0
      ? "Danger signs told when the return was lodged."
      : "The readings sent with the return show a danger.";
  const facts = { signs };
  const isRecorded = await recordStep(tx, actor, trackId, {
    ...step,
    from: safety.state,
    to,
    version: safety.version + 1,
    reason,
    facts,
  });
  if (!isRecorded) throw new Error(`The safety of pack ${packId} moved although it was locked`);
}
