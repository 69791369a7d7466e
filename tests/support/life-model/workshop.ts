import type fc from "fast-check";
import { expect } from "vitest";
import { resultEntrySchema } from "@/lib/bench-tests/result-entry.schema";
import { recordTestResult } from "@/lib/data/bench-tests/bench-tests";
import { recordWork, releasePack } from "@/lib/data/bench-tests/work";
import { giveUnitUp, keepUnitFor } from "@/lib/data/remedies/keep-unit";
import { workEntrySchema } from "@/lib/repair/work-entry.schema";
import { isSetApart } from "@/lib/returns/safety-track";
import { codeOf } from "@/tests/support/bring-to-bench";
import { actorOf, atTheBench, type Belief, keptUnit, mandatory, type Real, type Who } from "./world";

export const workshopSteps = ["work", "look-again", "measure-again", "measure-bad", "release"] as const;

/** Somebody works on the pack, tests it by the limits of a new build, or releases it. */
export class Workshop implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly step: (typeof workshopSteps)[number];
  constructor(who: Who, step: Workshop["step"]) {
    this.who = who;
    this.step = step;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { world, reference }: Real) {
    const actor = actorOf(world, this.who);
    const retested = (testKey: string, given: object) =>
      recordTestResult(
        actor,
        resultEntrySchema.parse({ reference, planId: world.planId, testKey, purpose: "retest", ...given }),
      );
    const instrument = codeOf("insulation-tester");
    switch (this.step) {
      case "work": {
        const entry = { reference, operation: "charged-level", minutes: "30", note: "Charged until level." };
        if (!(await recordWork(actor, workEntrySchema.parse(entry))).ok) return;
        this.expectInWork(belief);
        expect([isSetApart(belief.safety), belief.hold, belief.isReleased], `${this}`).toEqual([false, "none", false]);
        belief.workers.push(this.who);
        // What was measured before the last work says nothing of the pack as it is now.
        belief.retest.clear();
        break;
      }
      case "look-again":
        if (!(await retested("outside", { seen: "as-expected" })).ok) return;
        this.expectInWork(belief);
        belief.retest.set("outside", "inside");
        break;
      case "measure-again":
      case "measure-bad": {
        const isBad = this.step === "measure-bad";
        // 5 MΩ keeps the limit of a returned pack and fails that of a new build.
        if (!(await retested("insulation", { value: isBad ? "5" : "480", instrument })).ok) return;
        this.expectInWork(belief);
        expect(isSetApart(belief.safety), `${this} on a pack set apart`).toBe(false);
        belief.retest.set("insulation", isBad ? "outside" : "inside");
        break;
      }
      case "release":
        if (!(await releasePack(actor, reference, "Full Name")).ok) return;
        this.expectInWork(belief);
        expect(belief.workers, `${this} by somebody who worked on it`).not.toContain(this.who);
        expect(belief.workers, `${this} of nothing`).not.toEqual([]);
        expect(
          mandatory.map((key) => belief.retest.get(key)),
          `${this} outside the limits of a new build`,
        ).toEqual(mandatory.map(() => "inside"));
        expect(belief.isReleased, `${this} twice`).toBe(false);
        belief.isReleased = true;
        break;
    }
    world.made.add(this.step);
    expect(atTheBench, `${this}`).toContain(this.who);
  }
  private expectInWork(belief: Belief): void {
    expect([belief.status, belief.decided], `${this}`).toEqual(["work-in-progress", expect.anything()]);
    if (this.step === "work" || this.step === "release") expect(belief.decided, `${this}`).toBe("repair");
  }
  toString() {
    return `${this.who} in the workshop: ${this.step}`;
  }
}

/** Somebody keeps a pack from the store for this return or for its rival, or gives it up again. */
export class Keep implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly act: "keep" | "give-up";
  readonly forRival: boolean;
  /** Which pack, counted from the newest. */
  readonly back: number;
  constructor(who: Who, act: Keep["act"], forRival: boolean, back: number) {
    this.who = who;
    this.act = act;
    this.forRival = forRival;
    this.back = back;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { world, reference: own }: Real) {
    const reference = this.forRival ? world.rival : own;
    const unit = world.units.at(-1 - this.back) ?? world.units[0];
    if (unit === undefined) throw new RangeError("the store is empty");
    const actor = actorOf(world, this.who);
    const held = keptUnit(world, reference);
    const answer =
      this.act === "keep"
        ? await keepUnitFor(actor, reference, unit)
        : await giveUnitUp(actor, reference, "Scratched case.");
    if (!answer.ok) return;
    world.made.add(this.act);
    expect(atTheBench, `${this}`).toContain(this.who);
    if (this.act === "give-up") {
      expect(held, `${this} though none was kept`).not.toBeNull();
      if (held !== null) world.keptFor.delete(held);
      return;
    }
    if (!this.forRival) expect(belief.decided, `${this}`).toBe("replace");
    expect(held, `${this}: a second pack for one return`).toBeNull();
    expect(world.keptFor.get(unit), `${this}: one pack for two returns`).toBeUndefined();
    expect([...world.handedOver], `${this}: a pack that is with a customer`).not.toContain(unit);
    world.keptFor.set(unit, reference);
  }
  toString() {
    return `${this.who}: ${this.act}${this.forRival ? " (rival)" : ""} ${this.back}`;
  }
}
