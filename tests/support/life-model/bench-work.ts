import type fc from "fast-check";
import { expect } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { faultCodingSchema } from "@/lib/bench-tests/fault-coding.schema";
import { resultEntrySchema } from "@/lib/bench-tests/result-entry.schema";
import { recordTestResult, waiveTest } from "@/lib/data/bench-tests/bench-tests";
import { codeFault } from "@/lib/data/bench-tests/fault-codings";
import { waiveNoFault } from "@/lib/data/bench-tests/no-fault";
import { asSystem } from "@/lib/data/database";
import { isSetApart } from "@/lib/returns/safety-track";
import { codeOf } from "@/tests/support/bring-to-bench";
import { actorOf, atTheBench, type Belief, type Real, type Who } from "./world";

const coding = faultCodingSchema.parse({
  customerSaw: "unknown",
  found: "jumping-reading",
  part: "sense-wire",
  cause: "unknown",
  howSure: "likely",
});

export const benchWorks = ["look", "measure", "leave-out", "code", "find-nothing", "destroy"] as const;

/** Somebody at the bench makes the next open test, leaves it out, codes the fault, leaves the protocol out, or opens the pack. */
export class BenchWork implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly work: (typeof benchWorks)[number];
  constructor(who: Who, work: BenchWork["work"]) {
    this.who = who;
    this.work = work;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { world, reference }: Real) {
    const [testKey = "outside"] = belief.openTests;
    const answer = await this.doIt(actorOf(world, this.who), { reference, planId: world.planId, testKey });
    if (!answer.ok) return;
    world.made.add(this.work);
    expect(atTheBench, `${this}`).toContain(this.who);
    if (this.work === "find-nothing") {
      expect(this.who).toBe("lead");
      belief.mayFindNothing = true;
      return;
    }
    expect(belief.status, `${this}`).toBe("under-test");
    if (this.work === "measure") expect(isSetApart(belief.safety), `${this} on a pack set apart`).toBe(false);
    if (this.work === "destroy") {
      expect([isSetApart(belief.safety), belief.hold, belief.openTests], `${this}`).toEqual([false, "none", []]);
    } else if (this.work === "code") belief.isCoded = true;
    else belief.openTests = belief.openTests.filter((key) => key !== testKey);
  }
  private async doIt(
    actor: Actor,
    asked: { readonly reference: string; readonly planId: string; readonly testKey: string },
  ): Promise<{ readonly ok: boolean }> {
    const { reference } = asked;
    switch (this.work) {
      case "look":
        return recordTestResult(actor, resultEntrySchema.parse({ ...asked, seen: "as-expected" }));
      case "measure": {
        const measured = { value: "480", instrument: codeOf("insulation-tester") };
        return recordTestResult(actor, resultEntrySchema.parse({ ...asked, ...measured }));
      }
      case "destroy": {
        const opened = { testKey: "opened", seen: "as-expected", leaveToDestroy: "The customer, by telephone." };
        return recordTestResult(actor, resultEntrySchema.parse({ ...asked, ...opened }));
      }
      case "leave-out":
        return waiveTest(actor, { ...asked, why: "Not what this test is about." });
      case "code": {
        const versions = await asSystem((tx) => tx.faultCoding.count({ where: { return: { reference } } }));
        return codeFault(actor, reference, coding, versions);
      }
      case "find-nothing":
        return waiveNoFault(actor, reference, "Not what this test is about.");
    }
  }
  toString() {
    return `${this.who} at the bench: ${this.work}`;
  }
}
