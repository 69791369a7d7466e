import type fc from "fast-check";
import { expect } from "vitest";
import { flagSafety, scanPack, setLegalHold } from "@/lib/data/returns/move-track";
import type { CustodyPlace } from "@/lib/returns/custody-track";
import type { HoldState } from "@/lib/returns/legal-hold";
import { isSetApart, type SafetyState } from "@/lib/returns/safety-track";
import { mayLeave } from "./send-off";
import { actorOf, type Belief, type Real, type Who } from "./world";

export class Flag implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly to: SafetyState;
  constructor(who: Who, to: SafetyState) {
    this.who = who;
    this.to = to;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { world, reference }: Real) {
    const request = { to: this.to, reason: "Seen on the pack.", seenVersion: belief.safetyVersion };
    const answer = await flagSafety(actorOf(world, this.who), reference, request);
    if (!answer.ok) return;
    if (weight(this.to) <= weight(belief.safety)) expect(this.who).toBe("safetyOfficer");
    belief.safety = this.to;
    belief.safetyVersion += 1;
  }
  toString() {
    return `${this.who} flags ${this.to}`;
  }
}

/** How grave, written out once more; a closed incident weighs like a pack to handle with care. */
function weight(state: SafetyState): number {
  const order: readonly SafetyState[][] = [
    ["normal"],
    ["caution", "incident-closed"],
    ["isolate"],
    ["do-not-move"],
    ["incident-open"],
  ];
  return order.findIndex((states) => states.includes(state));
}

export class Scan implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly to: CustodyPlace;
  constructor(who: Who, to: CustodyPlace) {
    this.who = who;
    this.to = to;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { world, reference, serial }: Real) {
    const scan = { scanned: serial, cannotBeRead: false };
    const request = { to: this.to, reason: "Scanned.", seenVersion: belief.custodyVersion, scan };
    const leaves = this.to === "with-carrier-out" ? await mayLeave(reference) : null;
    const answer = await scanPack(actorOf(world, this.who), reference, request);
    if (!answer.ok) return;
    expect(leaves, `${this} without class, label and packing`).not.toBe(false);
    expect(this.to, "nobody declares the class of a sample here").not.toBe("supplier");
    const arrives =
      belief.custody.startsWith("with-carrier") ||
      ["missing", "with-customer"].includes(belief.custody) ||
      this.to === "missing";
    if (isSetApart(belief.safety) && !arrives)
      expect(this.to, "a pack set apart goes to quarantine only").toBe("quarantine");
    if (["recycler", "supplier"].includes(this.to)) expect(belief.hold, `${this} under a hold`).toBe("none");
    belief.custody = this.to;
    belief.custodyVersion += 1;
  }
  toString() {
    return `${this.who} scans ${this.to}`;
  }
}

export class Hold implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly to: HoldState;
  constructor(who: Who, to: HoldState) {
    this.who = who;
    this.to = to;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { world, reference }: Real) {
    const request = { to: this.to, reason: "Counsel says so.", seenVersion: belief.holdVersion };
    const answer = await setLegalHold(actorOf(world, this.who), reference, request);
    if (!answer.ok) return;
    expect(this.who).toBe("manager");
    belief.hold = this.to;
    belief.holdVersion += 1;
  }
  toString() {
    return `${this.who} sets the hold: ${this.to}`;
  }
}
