import type fc from "fast-check";
import { expect } from "vitest";
import { asSystem } from "@/lib/data/database";
import { readLeaving } from "@/lib/data/transport/outgoing-sending";
import { packForSending } from "@/tests/support/pack-for-sending";
import { type Belief, keptUnit, type Real } from "./world";

/** Somebody declares the class of what goes to the dealer, prints its label and packs it, where there is something to pack. */
export class SendOff implements fc.AsyncCommand<Belief, Real> {
  check() {
    return true;
  }
  async run(belief: Belief, { world, reference }: Real) {
    const isNothingKept = belief.decided === "replace" && keptUnit(world, reference) === null;
    const packed = packForSending(world.fleet, reference, new Date(), "to-dealer");
    const isPacked = await packed.then(
      () => true,
      () => false,
    );
    if (isPacked) expect(isNothingKept, `${this} without a pack kept`).toBe(false);
  }
  toString() {
    return "the lead packs what goes out";
  }
}

/** Whether what goes to the dealer may be given to a carrier, asked of the tables. */
export async function mayLeave(reference: string): Promise<boolean> {
  return asSystem(async (tx) => {
    const found = await tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true, reference: true } });
    return (await readLeaving(tx, found.reference, "to-dealer", new Date())).why === null;
  });
}
