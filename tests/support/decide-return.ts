import { waiveNoFault } from "@/lib/data/bench-tests/no-fault";
import { type MoveAnswer, makeMove } from "@/lib/data/returns/move-return";
import { type Decision, deniesRemedy } from "@/lib/returns/decision.schema";
import type { SmallFleet } from "./small-fleet";

/**
 * Takes a return, proposes a decision at version 2 and has the lead approve it, and a manager too where it leaves the customer
 * without a remedy: the shortest honest way to "decided", at version 4, or 5 with two.
 */
export async function takeAndDecide(
  fleet: SmallFleet,
  reference: string,
  decision: Omit<Decision, "seenVersion">,
  now = new Date(),
) {
  const take = await makeMove(fleet.bench, reference, { name: "take", reason: "", seenVersion: 1 }, now);
  if (decision.confirmedFault === "no-fault-found") await leaveProtocolOut(fleet, reference);
  const proposed = await propose(
    fleet.bench,
    reference,
    { refusedUnseenBecause: "Not what this test is about.", ...decision, seenVersion: 2 },
    now,
  );
  const approved = await approve(fleet.lead, reference, 3, now);
  const needsTwo = deniesRemedy(decision);
  if (needsTwo) {
    const second = await makeMove(
      fleet.manager,
      reference,
      { name: "approve-as-second", reason: "Looked at as well.", seenVersion: 4 },
      now,
    );
    if (!second.ok) throw new Error(JSON.stringify(second));
  }
  for (const answer of [take, proposed, approved]) if (!answer.ok) throw new Error(JSON.stringify(answer));
}

/** The lead leaves out what has to be tried before anybody says that no fault was found. */
export async function leaveProtocolOut(fleet: SmallFleet, reference: string): Promise<void> {
  const answer = await waiveNoFault(fleet.lead, reference, "Not what this test is about.");
  if (!answer.ok) throw new Error(JSON.stringify(answer));
}

export function propose(
  actor: SmallFleet["bench"],
  reference: string,
  decision: Decision,
  now = new Date(),
): Promise<MoveAnswer> {
  const { reason, seenVersion } = decision;
  return makeMove(actor, reference, { name: "propose", reason, seenVersion, decision }, now);
}

export function approve(
  actor: SmallFleet["bench"],
  reference: string,
  seenVersion: number,
  now = new Date(),
): Promise<MoveAnswer> {
  const stated = { noticesGiven: true };
  return makeMove(actor, reference, { name: "approve", reason: "", seenVersion, stated }, now);
}
