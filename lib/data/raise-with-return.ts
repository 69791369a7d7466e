import "server-only";
import type { Danger } from "@/lib/returns/danger-signs";
import { graverOf, type SafetyState } from "@/lib/returns/safety-track";
import type { Transaction } from "./database";
import type { Mover } from "./history";
import { openTrack, readPackTracks, recordStep } from "./track-rows";

interface RaisedWithReturn {
  readonly returnId: string;
  readonly packId: string;
  readonly danger: Danger;
  readonly at: Date;
  readonly zone: string;
}

/** Any sign sets the pack apart; one that is going on now forbids to move it. A flag that is graver already stays. */
export async function raiseWithReturn(tx: Transaction, actor: Mover, raised: RaisedWithReturn): Promise<void> {
  const { danger, packId, ...step } = raised;
  if (danger.kind === "none") return;
  const asked: SafetyState = danger.kind === "keep-away" ? "do-not-move" : "isolate";
  const { safety } = await readPackTracks(tx, packId);
  const to = graverOf(safety.state, asked);
  if (to === safety.state) return;
  const trackId = safety.id ?? (await openTrack(tx, actor, { track: "safety", packId }, safety.state));
  const reason = "Danger signs told when the return was lodged.";
  const facts = { signs: [...danger.signs] };
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
