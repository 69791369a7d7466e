import type { MoveName } from "./move-names";
import { isBackInUse, type ReturnStatus } from "./return-status";
import { isSetApart, type SafetyState } from "./safety-track";

/** Steps that carry the case forward stand open at the bench; the others are one tap away. */
export const mainSteps: readonly MoveName[] = [
  "take",
  "answer",
  "receive",
  "start-test",
  // Never among the forms of the steps, which leave it to the desk; named so that its shut door is seen.
  "propose",
  "approve",
  "approve-as-second",
  "start-work",
  "ready-without-work",
  "finish-work",
  "hand-back",
  "close",
];

/** Made by an entry at goods-in, never by a form of its own. */
export const atGoodsIn: readonly MoveName[] = ["receive", "await-again"];

/** Made where cover and readings stand. */
export const inItsPart: readonly MoveName[] = ["prove-sale", "choose-proof", "add-readings"];

const untested: readonly ReturnStatus[] = ["remote-help", "return-approved", "return-expected", "at-the-works"];
const keepsUnit: readonly ReturnStatus[] = ["decided", "work-in-progress", "ready-to-hand-back"];

/** A decision from here is one without tests: the desk says so and offers what may be decided so. */
export function isDecidedUntested(status: string): boolean {
  return untested.some((one) => one === status);
}

/** A pack is kept to go out instead between the decision and the hand-over only. */
export function mayKeepUnit(status: string): boolean {
  return keepsUnit.some((one) => one === status);
}

interface PackInHand {
  readonly status: string;
  readonly decidedRemedy: string | null;
  readonly flag: SafetyState;
}

/**
 * Somebody judged the pack and gave it back to use: a warning not to touch it would contradict that, on either face. Its signs were
 * judged with it, a flag that was raised since was not.
 */
export function isJudgedForUse({ status, decidedRemedy, flag }: PackInHand): boolean {
  return isBackInUse(status, decidedRemedy) && !isSetApart(flag);
}
